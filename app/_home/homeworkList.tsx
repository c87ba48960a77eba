'use client';

import { useState } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { homeworkStretch } from '@/lib/core/handover/homework.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { type Task, homework as tasksOf } from '../_notes/homework.ts';
import { Notice } from '../_ui/notice.tsx';
import { usePractise } from './usePractise.ts';
import { homework as words } from './words.ts';

/** What there is to practise, to be ticked; behind each line the part of the dance that it is about, to be danced again and again. */
export function HomeworkList({ me }: { me: Me }) {
  const { board, score } = useBoard('board', 'score');
  const [problem, setProblem] = useState('');
  const all = tasksOf(board.lessons?.lessons ?? []);
  const open = all.filter(({ done }) => !done).length;
  const said = all.length === 0 ? '' : open > 0 ? words.open(open) : '';
  return (
    <section aria-labelledby="homework">
      <div className="flex items-baseline justify-between gap-4">
        <h3 id="homework" className="text-2xl">
          {words.title}
        </h3>
        <p className="text-soft">{said}</p>
      </div>
      {all.length === 0 ? <p className="mt-1 max-w-prose">{words.none}</p> : null}
      {all.length > 0 && open === 0 ? <p className="mt-1 text-moss">{words.allDone}</p> : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {all.length > 0 ? (
        <ul className="mt-2 border-t-2 border-ink">
          {[...all.filter(({ done }) => !done), ...all.filter(({ done }) => done)].map((task) => (
            <Line
              key={`${task.lesson}/${task.place}`}
              me={me}
              task={task}
              score={score}
              onProblem={setProblem}
            />
          ))}
        </ul>
      ) : null}
    </section>
  );
}

function Line({
  me,
  task,
  score,
  onProblem,
}: {
  me: Me;
  task: Task;
  score: FloorScore | null;
  onProblem: (problem: string) => void;
}) {
  const { board } = useBoard('board');
  const room = useRoom();
  const practise = usePractise(me);
  const { plan, lessons } = board;
  const hasMusic = score !== null && plan.recording !== null;
  const stretch = hasMusic
    ? homeworkStretch(task.words, { plan, drills: lessons?.drills ?? [] }, score)
    : null;
  return (
    <li className="flex items-center gap-3 border-b border-rule py-1">
      <label className="flex min-h-11 min-w-0 flex-1 items-center gap-3">
        <input
          type="checkbox"
          checked={task.done}
          disabled={!room.mayWrite('lessons')}
          onChange={(event) =>
            onProblem(room.tick(task.lesson, task.place, event.target.checked) ? '' : words.notTicked)
          }
          className="size-6 shrink-0 accent-ink"
        />
        <span className={`min-w-0 wrap-anywhere ${task.done ? 'text-soft line-through' : 'text-lg'}`}>
          {task.words}
        </span>
      </label>
      {stretch && score ? (
        <button
          type="button"
          aria-label={words.practiseLong(words.practise(stretch), task.words)}
          onClick={() => practise.stretch(score, stretch)}
          className="flex min-h-11 max-w-[45%] shrink-0 items-center gap-2 rounded-full border border-edge px-3 text-left hover:border-ink"
        >
          <svg viewBox="0 0 24 24" className="size-4 shrink-0 fill-current" aria-hidden="true">
            <path d="M8 5v14l11-7z" />
          </svg>
          <span className="min-w-0 truncate max-sm:text-sm">{words.practise(stretch)}</span>
        </button>
      ) : null}
    </li>
  );
}
