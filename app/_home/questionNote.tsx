'use client';

import { useState } from 'react';
import type { RichText } from '@/lib/core/areas/area.ts';
import type { Question } from '@/lib/core/areas/lessons.ts';
import { isOpen } from '@/lib/core/handover/questions.ts';
import type { Me } from '../_client/boardState.ts';
import { newId } from '../_client/newId.ts';
import { useRoom } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { instantWords, nowInstant } from '../_studio/dates.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { Notice } from '../_ui/notice.tsx';
import { AnswerField } from './answerField.tsx';
import { questions as words } from './words.ts';

/** One question with its answer, or whether it was read; its couple may tell it to everybody, or take it back. */
export function QuestionNote({
  me,
  question,
  instructor,
}: {
  me: Me;
  question: Question;
  instructor: string;
}) {
  const { change, problem, may } = useChanging('lessons');
  const isInstructor = me.role === 'instructor';
  const [changing, setChanging] = useState(false);
  // As it was when this page first showed it: to show it is to have read it.
  const [isFresh] = useState(!isOpen(question) && question.answerReadAt === null);
  return (
    <li className="border-b border-rule py-3">
      <p className="text-sm text-soft">{words.asked(question)}</p>
      <p dir="auto" className="sung text-lg leading-snug whitespace-pre-wrap wrap-anywhere">
        {question.words}
      </p>
      {isOpen(question) ? null : (
        <>
          <p className="mt-2 text-sm text-soft">
            {isFresh && !isInstructor ? (
              <strong className="mr-2 rounded border border-ink px-1.5 text-ink">{words.fresh}</strong>
            ) : null}
            {question.answeredBy}, {question.answeredAt ? instantWords(question.answeredAt) : ''}
          </p>
          <p dir="auto" className="whitespace-pre-wrap wrap-anywhere">
            {question.answer}
          </p>
        </>
      )}
      {isOpen(question) && !isInstructor ? (
        <p className="mt-1 text-sm text-soft">
          {question.readAt === null ? words.unread : words.read(instructor)}
        </p>
      ) : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {isInstructor && may && (isOpen(question) || changing) ? (
        <AnswerField question={question} onDone={() => setChanging(false)} />
      ) : null}
      {question.toldAt ? <p className="mt-1 text-sm text-soft">{words.told}</p> : null}
      {may ? (
        <p className="-ml-2 mt-1 flex flex-wrap">
          {isInstructor && !isOpen(question) && !changing ? (
            <Button look="quiet" className="px-2!" onClick={() => setChanging(true)}>
              {words.change}
            </Button>
          ) : null}
          {isInstructor ? null : <OfCouple me={me} question={question} onChange={change} />}
        </p>
      ) : null}
    </li>
  );
}

/** What only those who asked decide. */
function OfCouple({
  me,
  question,
  onChange,
}: {
  me: Me;
  question: Question;
  onChange: ReturnType<typeof useChanging<'lessons'>>['change'];
}) {
  const room = useRoom();
  const [name] = useMyName();
  const [asking, setAsking] = useState(false);
  const { id } = question;
  const tell = () => {
    const remark = newId();
    const fields = { writer: me.membership, name, role: me.role, at: nowInstant(), about: '' as const };
    room.write('remarks', [{ collection: 'remarks', id: remark, fields }], remark, {
      text: remarkOf(question),
      done: () => onChange({ collection: 'questions', id, fields: { toldAt: nowInstant() } }),
    });
  };
  return (
    <>
      {question.toldAt ? null : (
        <Button look="quiet" className="px-2!" once onClick={tell}>
          {words.tell}
        </Button>
      )}
      <Button look="quiet" className="px-2!" onClick={() => setAsking(true)}>
        {words.takeBack}
      </Button>
      {asking ? (
        <Asking
          title={words.takeBackTitle}
          yes={words.takeBackYes}
          onNo={() => setAsking(false)}
          onYes={() => {
            setAsking(false);
            onChange({ collection: 'questions', id, fields: null });
          }}
        >
          <p>{words.takeBackHint}</p>
        </Asking>
      ) : null}
    </>
  );
}

/** Question and answer as a remark that everybody reads. */
function remarkOf({ words, answer, answeredBy }: Question): RichText {
  const paragraphs = [words, answer && `${answeredBy}: ${answer}`].flatMap((text) => text.split('\n'));
  return {
    type: 'doc',
    content: paragraphs
      .filter((text) => text.trim() !== '')
      .map((text) => ({ type: 'paragraph', content: [{ type: 'text', text }] })),
  };
}
