'use client';

import { useState } from 'react';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Choice, labelLook } from '../_ui/field.tsx';
import { type Side, STEPS, type Step, withSideMoved } from './seamMoves.ts';
import { strip as words } from './stripWords.ts';
import { useEdge } from './useEdge.ts';
import type { SongChange } from './useSongChange.tsx';

interface JoinProps {
  /** Of the cut in the edit. */
  index: number;
  change: SongChange;
}

const SIDES: { side: Side; words: string }[] = [
  { side: 'from', words: 'where the music stops' },
  { side: 'to', words: 'where it goes on' },
  { side: 'both', words: 'both' },
];

/** Buttons that move a join by a bar, a count or 10 ms. */
export function MoveJoin({ index, change }: JoinProps) {
  const plan = usePlan();
  const [step, setStep] = useState<Step>('bar');
  const { grid, recording, edit } = plan;
  if (!grid || !recording || !edit?.cuts[index]) return null;
  const move = (side: Side, way: 1 | -1) =>
    change.setEdit(withSideMoved(edit, index, side, step, way, { grid, duration: recording.duration }));
  return (
    <fieldset className="flex flex-wrap items-baseline gap-x-6 gap-y-2">
      <legend className="sr-only">Move the join</legend>
      <div className="w-32">
        <Choice label="Move by" value={step} onChange={({ target }) => setStep(target.value as Step)}>
          {STEPS.map((each) => (
            <option key={each} value={each}>
              {each === '10 ms' ? '10 ms' : `a ${each}`}
            </option>
          ))}
        </Choice>
      </div>
      {SIDES.map(({ side, words }) => (
        <div key={side}>
          <p className={labelLook}>{words}</p>
          <div className="flex gap-1">
            <Button onClick={() => move(side, -1)}>
              Earlier<span className="sr-only">, {words}</span>
            </Button>
            <Button onClick={() => move(side, 1)}>
              Later<span className="sr-only">, {words}</span>
            </Button>
          </div>
        </div>
      ))}
    </fieldset>
  );
}

/** Pixels that a handle is drawn along for a bar. */
const BAR = 14;

/**
 * One end of what is left out, to be drawn along by bars with a pointer, or moved by keys: arrows by a count, with shift by
 * 10 ms, page keys by a bar.
 */
export function JoinHandle({ index, side, change }: JoinProps & { side: 'from' | 'to' }) {
  const edge = useEdge({ kind: side, index }, change, {
    lineAt: (x, grasp, lines) =>
      Math.max(0, Math.min(lines.length - 1, grasp.line + Math.round((x - grasp.x) / BAR))),
  });
  if (!edge) return null;
  return (
    <div
      {...edge.slider}
      className="inline-flex min-h-11 cursor-ew-resize touch-none items-center gap-2 border-x-4 border-double border-edge bg-paper px-2 text-[0.95rem] select-none"
    >
      <span className="text-soft shrink-0 whitespace-nowrap">{words.short[edge.role]}</span> {edge.said}
    </div>
  );
}
