'use client';

import { type FormEvent, useEffect, useState } from 'react';
import { LONGEST_QUESTION, type Question } from '@/lib/core/areas/lessons.ts';
import { inOrder } from '@/lib/core/handover/questions.ts';
import type { Me } from '../_client/boardState.ts';
import { newId } from '../_client/newId.ts';
import { useBoard } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { nowInstant } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { TextArea } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { QuestionNote } from './questionNote.tsx';
import { instructorName, questions as words } from './words.ts';

/** Questions between couple and instructor: the couple ask, the instructor answers, nobody else reads them. */
export function Questions({ me }: { me: Me }) {
  const { board } = useBoard('board');
  const all = inOrder(board.lessons?.questions ?? []);
  const instructor = instructorName(board.plan.instructor);
  const isInstructor = me.role === 'instructor';
  useMarkRead(all, isInstructor);
  return (
    <section aria-labelledby="questions">
      <h3 id="questions" className="text-2xl">
        {isInstructor ? words.ofCouple : words.title(instructor)}
      </h3>
      <p className="text-soft">{isInstructor ? words.betweenYou : words.between(instructor)}</p>
      {isInstructor ? null : <Ask />}
      {all.length === 0 && isInstructor ? <p className="mt-2">{words.none}</p> : null}
      {all.length > 0 ? (
        <ul className="mt-3 border-t border-rule">
          {all.map((one) => (
            <QuestionNote key={one.id} me={me} question={one} instructor={instructor} />
          ))}
        </ul>
      ) : null}
    </section>
  );
}

/** What is on the screen of whoever it is meant for is read, and the other side is told so. */
function useMarkRead(all: readonly Question[], isInstructor: boolean): void {
  const { change, may } = useChanging('lessons');
  const fresh = all.filter((one) =>
    isInstructor ? one.readAt === null : one.answeredAt !== null && one.answerReadAt === null,
  );
  const ids = fresh.map(({ id }) => id).join(' ');
  // biome-ignore lint/correctness/useExhaustiveDependencies: once for each that is new
  useEffect(() => {
    if (ids === '' || !may) return;
    const fields = isInstructor ? { readAt: nowInstant() } : { answerReadAt: nowInstant() };
    change(...ids.split(' ').map((id) => ({ collection: 'questions' as const, id, fields })));
  }, [ids, may]);
}

function Ask() {
  const { make, problem, may } = useChanging('lessons');
  const [name] = useMyName();
  const [draft, setDraft] = useState('');
  const asked = draft.trim();
  const ask = (event: FormEvent) => {
    event.preventDefault();
    if (asked === '' || asked.length > LONGEST_QUESTION) return;
    const fields = {
      ...{ by: name, at: nowInstant(), words: asked, readAt: null, toldAt: null },
      ...{ answer: '', answeredBy: '', answeredAt: null, answerReadAt: null },
    };
    make([{ collection: 'questions', id: newId(), fields }], { done: () => setDraft('') });
  };
  if (!may) return null;
  return (
    <form onSubmit={ask} className="mt-2">
      <TextArea
        label={words.field}
        value={draft}
        placeholder={words.placeholder}
        onChange={(event) => setDraft(event.target.value)}
      />
      {asked.length > LONGEST_QUESTION ? <Notice kind="wrong">{words.tooLong}</Notice> : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <p className="mt-2">
        <Button type="submit" look="main" disabled={asked === '' || asked.length > LONGEST_QUESTION}>
          {words.ask}
        </Button>
      </p>
    </form>
  );
}
