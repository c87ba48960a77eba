'use client';

import { learned } from '@/lib/core/dance/kinds.ts';
import { useBoard } from '../_client/room.tsx';
import { nowInstant } from '../_studio/dates.ts';
import { useChanging } from '../_ui/changing.ts';
import { Notice } from '../_ui/notice.tsx';

const levels = ['new', 'with help', 'alone', 'by heart'] as const;
type Level = 0 | 1 | 2 | 3;

/** How well each move of the plan goes. */
export function Readiness() {
  const { board } = useBoard('board');
  const { change, problem, may } = useChanging('lessons');
  const moves = learned(board.plan.moves);
  const levelOf = new Map(board.lessons?.readiness.map((entry) => [entry.id, entry.level]));
  const set = (id: string, level: Level) =>
    change({ collection: 'readiness', id, fields: { level, at: nowInstant() } });
  return (
    <section aria-labelledby="readiness">
      <h2 id="readiness" className="text-2xl">
        How it goes
      </h2>
      {moves.length === 0 ? (
        <p className="mt-1 text-soft">The moves you choose on the sheet appear here.</p>
      ) : null}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <ul>
        {moves.map((move) => (
          <li key={move.id} className="border-b border-rule py-2">
            <fieldset disabled={!may}>
              <legend className="font-semibold wrap-anywhere">{move.name}</legend>
              <div className="mt-1 grid grid-cols-4">
                {levels.map((words, level) => (
                  <label
                    key={words}
                    className="relative flex min-h-11 cursor-pointer items-center justify-center border border-l-0 border-edge px-1 text-center text-sm leading-tight first:rounded-l first:border-l last:rounded-r has-checked:border-ink has-checked:bg-ink has-checked:text-paper has-focus-visible:outline-3 has-focus-visible:outline-offset-2"
                  >
                    <input
                      type="radio"
                      name={`ready-${move.id}`}
                      checked={levelOf.get(move.id) === level}
                      onChange={() => set(move.id, level as Level)}
                      className="absolute inset-0 cursor-pointer opacity-0"
                    />
                    {words}
                  </label>
                ))}
              </div>
            </fieldset>
          </li>
        ))}
      </ul>
    </section>
  );
}
