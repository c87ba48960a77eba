'use client';

import { type KeyboardEvent, type PointerEvent, useEffect, useId, useMemo, useRef, useState } from 'react';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { BEFORE_THE_BAR } from '@/lib/core/edit/seam.ts';
import { median } from '@/lib/core/signal/statistics.ts';
import { clock } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Choice, labelLook } from '../_ui/field.tsx';
import { barPlaces, placeWords } from './handEdit.ts';
import { nearestLine, type Side, STEPS, type Step, withJoinAt, withSideMoved } from './seamMoves.ts';
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
/** What each key does to a handle. */
const KEYS: Record<string, { step: Step; way: 1 | -1 }> = {
  ArrowLeft: { step: 'count', way: -1 },
  ArrowRight: { step: 'count', way: 1 },
  PageUp: { step: 'bar', way: -1 },
  PageDown: { step: 'bar', way: 1 },
};

/** The handle that keys have just moved: moving may draw its part of the page anew, and the focus stays with it. */
let moved: string | null = null;

/**
 * One end of what is left out, to be drawn along by bars with a pointer, or moved by keys: arrows by a count, with shift by
 * 10 ms, page keys by a bar.
 */
export function JoinHandle({ index, side, change }: JoinProps & { side: 'from' | 'to' }) {
  const plan = usePlan();
  const hint = useId();
  const handle = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (moved === `${index} ${side}`) handle.current?.focus();
    moved = null;
  });
  const began = useRef<{ x: number; line: number } | null>(null);
  const [drawn, setDrawn] = useState<number | null>(null);
  const { grid, recording, sections } = plan;
  const edit = plan.edit ?? wholeSong;
  const cut = edit.cuts[index];
  const places = useMemo(() => (grid ? barPlaces(grid, sections) : []), [grid, sections]);
  if (!grid || !recording || !cut) return null;
  const lines = places.map(({ at }) => at);
  const beat = median(grid.beats.slice(1).map((t, i) => t - grid.beats[i]!));
  const at = drawn === null ? cut[side] + BEFORE_THE_BAR : lines[drawn]!;
  const words = placeWords(places, at, beat / 2);
  const lineUnder = (x: number): number => {
    const { x: from, line } = began.current!;
    return Math.max(0, Math.min(lines.length - 1, line + Math.round((x - from) / BAR)));
  };
  const grab = (event: PointerEvent<HTMLElement>) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    began.current = { x: event.clientX, line: nearestLine(lines, cut[side] + BEFORE_THE_BAR) };
  };
  const draw = (event: PointerEvent<HTMLElement>) => {
    if (began.current) setDrawn(lineUnder(event.clientX));
  };
  const drop = (event: PointerEvent<HTMLElement>) => {
    if (!began.current) return;
    const line = lineUnder(event.clientX);
    const stayed = line === began.current.line;
    letGo();
    if (stayed) return;
    const place = lines[line]! - BEFORE_THE_BAR;
    const [from, to] = side === 'from' ? [place, cut.to] : [cut.from, place];
    change.setEdit(withJoinAt(edit, index, from, to, recording.duration));
  };
  const letGo = () => {
    began.current = null;
    setDrawn(null);
  };
  const press = (event: KeyboardEvent) => {
    const key = KEYS[event.key];
    if (!key) return;
    event.preventDefault();
    const step = event.shiftKey && key.step === 'count' ? '10 ms' : key.step;
    const song = { grid, duration: recording.duration };
    moved = `${index} ${side}`;
    change.setEdit(withSideMoved(edit, index, side, step, key.way, song));
  };
  return (
    <div
      ref={handle}
      role="slider"
      tabIndex={0}
      aria-label={side === 'from' ? 'The music stops at' : 'The music goes on at'}
      aria-valuemin={0}
      aria-valuemax={Math.round(recording.duration)}
      aria-valuenow={Math.round(at)}
      aria-valuetext={`${words}, ${clock(at, 2)}`}
      aria-describedby={hint}
      className="inline-flex min-h-11 cursor-ew-resize touch-none items-center gap-2 border-x-4 border-double border-edge bg-paper px-2 text-[0.95rem] select-none"
      onPointerDown={grab}
      onPointerMove={draw}
      onPointerUp={drop}
      onPointerCancel={letGo}
      onKeyDown={press}
    >
      <span className="text-soft shrink-0 whitespace-nowrap">
        {side === 'from' ? 'stops at' : 'goes on at'}
      </span>{' '}
      {words}
      <span id={hint} className="sr-only">
        Arrow keys move it by a count, with shift by 10 milliseconds, page up and page down by a bar.
      </span>
    </div>
  );
}
