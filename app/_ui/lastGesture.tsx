'use client';

import { useEffect, useState } from 'react';
import type { Board } from '@/lib/core/areas/board.ts';
import { gestureWords } from '@/lib/core/areas/gestureWords.ts';
import { floorDifferences } from '@/lib/core/dance/floorWords.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from './button.tsx';
import { gesture } from './words.ts';

const differences = (before: Board, after: Board): string[] => [
  ...gestureWords(before.plan, after.plan),
  ...floorDifferences(before.show?.floor ?? null, after.show?.floor ?? null),
];

/** What this page did last to song, dance and floor, in a sentence, with the way back; until it is undone or sent away. */
export function LastGesture() {
  const room = useRoom();
  const { canUndo } = useBoard('canUndo');
  const [said, setSaid] = useState<string[]>([]);
  useEffect(
    () => room.onGesture((made) => setSaid(made ? differences(made.before, made.after) : [])),
    [room],
  );
  const [first] = said;
  const shown = canUndo && first !== undefined;
  return (
    <div role="status" className="pointer-events-none!">
      {shown ? (
        <p className="arrives pointer-events-auto ml-auto flex w-fit max-w-full items-center gap-x-3 rounded-t border border-b-0 border-edge bg-paper px-3 text-[0.95rem] max-md:w-full md:mr-10 xl:mr-4 xl:max-w-[21.5rem]">
          <span className="min-w-0 flex-1 leading-snug">
            {first}
            {said.length > 1 ? gesture.more(said.length - 1) : ''}
          </span>
          <Button
            look="quiet"
            className="shrink-0 px-2!"
            onClick={() => {
              setSaid([]);
              room.undo();
            }}
          >
            {gesture.undo}
          </Button>
          <button
            type="button"
            aria-label={gesture.goOn}
            title={gesture.goOn}
            onClick={() => setSaid([])}
            className="-mr-2 grid size-11 shrink-0 place-items-center text-soft"
          >
            <svg viewBox="0 0 24 24" className="size-4 fill-none stroke-current stroke-2" aria-hidden="true">
              <path d="M5 5l14 14M19 5L5 19" />
            </svg>
          </button>
        </p>
      ) : null}
    </div>
  );
}
