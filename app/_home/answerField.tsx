'use client';

import { type FormEvent, useState } from 'react';
import { LONGEST_QUESTION, type Question } from '@/lib/core/areas/lessons.ts';
import { useMyName } from '../_notes/myName.ts';
import { nowInstant } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { TextArea } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { questions as words } from './words.ts';

/** Where the instructor answers; a changed answer is new to the couple again. */
export function AnswerField({ question, onDone }: { question: Question; onDone: () => void }) {
  const { make, problem } = useChanging('lessons');
  const [name] = useMyName();
  const [draft, setDraft] = useState(question.answer);
  const said = draft.trim();
  const isLong = said.length > LONGEST_QUESTION;
  const answer = (event: FormEvent) => {
    event.preventDefault();
    if (said === '' || isLong) return;
    const now = nowInstant();
    const fields = {
      answer: said,
      answeredBy: name,
      answeredAt: now,
      answerReadAt: null,
      readAt: question.readAt ?? now,
    };
    make([{ collection: 'questions', id: question.id, fields }], { done: onDone });
  };
  return (
    <form onSubmit={answer} className="mt-2">
      <TextArea label={words.answer} value={draft} onChange={(event) => setDraft(event.target.value)} />
      {isLong ? <Notice kind="wrong">{words.tooLong}</Notice> : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <p className="mt-2 flex gap-3">
        <Button type="submit" look="main" disabled={said === '' || isLong}>
          {words.answerIt}
        </Button>
        {question.answer === '' ? null : (
          <Button look="quiet" onClick={onDone}>
            {words.cancel}
          </Button>
        )}
      </p>
    </form>
  );
}
