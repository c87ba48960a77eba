'use client';

import { waitingOf } from '@/lib/core/handover/questions.ts';
import type { ScreenName } from '../_client/boardPage.tsx';
import { useBoard } from '../_client/room.tsx';
import { answeredWords, toAnswerWords } from './words.ts';

/** On the tab that leads there: how many questions wait for the instructor, or how many answers for the couple. */
export function QuestionMark({ screen }: { screen: ScreenName }) {
  const { me, board } = useBoard('me', 'board');
  const waiting = waitingOf(board.lessons?.questions ?? []);
  const [n, words] =
    me.role === 'instructor' && screen === 'lessons'
      ? [waiting.open, toAnswerWords(waiting.open, waiting.unread)]
      : me.role === 'couple' && screen === 'home'
        ? [waiting.answered, answeredWords(waiting.answered)]
        : [0, ''];
  if (n === 0) return null;
  return (
    <>
      <span
        aria-hidden="true"
        className="ml-1.5 grid min-w-6 place-items-center rounded-full bg-ink px-1 text-sm font-semibold text-paper"
      >
        {n}
      </span>
      <span className="sr-only">({words})</span>
    </>
  );
}
