'use client';

import type { WallTime } from '@/lib/core/calendar.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { DraftField } from '../_ui/draftField.tsx';
import { Notice } from '../_ui/notice.tsx';

/** How many lessons remain, and when the next one is; the checks weigh the moves against it. */
export function LessonsLeft() {
  const { lessonsLeft, nextLesson } = usePlan();
  const { change, problem, may } = useChanging('plan');
  const left = (value: number) => change({ register: 'lessonsLeft', value });
  return (
    <section aria-labelledby="left">
      <h2 id="left" className="text-2xl">
        Still to come
      </h2>
      <div className="mt-2 flex items-center gap-4">
        <p role="status" className="min-w-28 font-serif text-3xl">
          {lessonsLeft}{' '}
          <span className="font-sans text-base text-soft">
            {lessonsLeft === null ? 'how many is not said yet' : lessonsLeft === 1 ? 'lesson' : 'lessons'}
          </span>
        </p>
        {may ? (
          <span className="flex gap-2">
            <Button
              aria-label="One lesson fewer"
              className="w-11 px-0!"
              disabled={(lessonsLeft ?? 0) === 0}
              onClick={() => left((lessonsLeft ?? 1) - 1)}
            >
              −
            </Button>
            <Button
              aria-label="One lesson more"
              className="w-11 px-0!"
              disabled={lessonsLeft === 100}
              onClick={() => left((lessonsLeft ?? 0) + 1)}
            >
              +
            </Button>
          </span>
        ) : null}
      </div>
      <div className="mt-3">
        <DraftField
          label="Next lesson"
          type="datetime-local"
          disabled={!may}
          value={nextLesson ?? ''}
          onKeep={(value) => change({ register: 'nextLesson', value: (value || null) as WallTime | null })}
        />
      </div>
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
    </section>
  );
}
