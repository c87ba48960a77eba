'use client';

import Link from 'next/link';
import { dayIn } from '@/lib/zone/dayIn.ts';
import type { Me } from '../_client/boardState.ts';
import { usePlan } from '../_client/room.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { lesson } from './words.ts';

/** When the next lesson is, how many are still to come, and where its notes are. A lesson's day is that of who takes it. */
export function NextLesson({ me }: { me: Me }) {
  const { nextLesson, lessonsLeft } = usePlan();
  const today = dayIn(null);
  const isAhead = nextLesson !== null && nextLesson.slice(0, 10) >= today;
  return (
    <section aria-labelledby="next-lesson">
      <h3 id="next-lesson" className="text-2xl">
        {lesson.title}
      </h3>
      {isAhead ? (
        <p className="mt-1 text-xl">
          {lesson.when(nextLesson)} <span className="text-soft">{lesson.far(today, nextLesson)}</span>
        </p>
      ) : (
        <p className="mt-1">{lesson.none}</p>
      )}
      <p className="mt-1 text-soft">
        {lessonsLeft === null ? null : <>{lesson.left(lessonsLeft)} · </>}
        <Link prefetch={false} href={boardAddress(me.board, 'lessons', me.role)}>
          {lesson.toNotes}
        </Link>
      </p>
    </section>
  );
}
