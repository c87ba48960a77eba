import Link from 'next/link';
import type { BoardSummary } from '@/lib/protocol/api.ts';
import { boardAddress } from '../_ui/roles.ts';
import { toAnswerWords } from './words.ts';

/** In the studio's list: that a couple's questions wait, and the way to them. */
export function StudioQuestions({ board: { id, questions } }: { board: BoardSummary }) {
  if (questions.open === 0) return null;
  return (
    <p className={`mt-2 ${questions.unread > 0 ? 'font-semibold' : ''}`}>
      <Link prefetch={false} href={boardAddress(id, 'lessons', 'instructor')}>
        {toAnswerWords(questions.open, questions.unread)}
      </Link>
    </p>
  );
}
