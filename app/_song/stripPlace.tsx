import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { clock, type RecordTime, recordTime } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { nearestLine } from './seamMoves.ts';
import { barTimes } from './sectionSteps.ts';
import { useSongPlace, useSongSound } from './songSound.tsx';
import { momentOf } from './strip.ts';
import { strip as words } from './stripWords.ts';
import { useNameOf } from './useNameOf.ts';

/** What is marked to be left out, from bar line to bar line, in whichever direction. */
export interface Marked {
  from: RecordTime;
  to: RecordTime;
}

/** Pixels after which a press is a drag. */
const DRAG = 6;
/** Seconds: a bar line this near is where it is already. */
const PASSED = 0.05;
/** Seconds of a step where no bars, or no sections, are known. */
const WITHOUT_BARS = 5;

/** All of the strip as one slider: the place in the recording, by pointer and by keys. */
export function StripPlace({
  timeAt,
  marked,
  mark,
  leaveOut,
  onEscape,
}: {
  timeAt(x: number): RecordTime;
  marked: Marked | null;
  /** null for whoever may not edit. */
  mark: ((marked: Marked | null) => void) | null;
  leaveOut(marked: Marked): void;
  onEscape(): void;
}) {
  const { grid, sections, recording } = usePlan();
  const sound = useSongSound();
  const { at } = useSongPlace();
  const name = useNameOf();
  const grasp = useRef<{ x: number; at: RecordTime; isDrag: boolean } | null>(null);
  const duration = recording?.duration ?? 0;
  const lines = grid ? barTimes(grid) : [];
  const lineNear = (time: RecordTime): RecordTime => lines[nearestLine(lines, time)] ?? time;

  const press = (event: PointerEvent<HTMLElement>) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    grasp.current = { x: event.clientX, at: timeAt(event.clientX), isDrag: false };
  };
  const drawnTo = (held: { at: RecordTime }, x: number): Marked => ({
    from: lineNear(held.at),
    to: lineNear(timeAt(x)),
  });
  const move = ({ clientX }: PointerEvent) => {
    const held = grasp.current;
    if (!held || !mark) return;
    held.isDrag ||= Math.abs(clientX - held.x) >= DRAG;
    if (held.isDrag) mark(drawnTo(held, clientX));
  };
  const drop = ({ clientX }: PointerEvent) => {
    const held = grasp.current;
    letGo();
    if (held?.isDrag) leaveOut(drawnTo(held, clientX));
    else if (held) sound.hear(held.at);
  };
  const letGo = () => {
    grasp.current = null;
    mark?.(null);
  };

  const stepped = (from: RecordTime, stops: readonly RecordTime[], way: 1 | -1): RecordTime => {
    if (stops.length === 0) return momentOf((from + way * WITHOUT_BARS) / duration, duration);
    const next =
      way > 0 ? stops.find((stop) => stop > from + PASSED) : stops.findLast((stop) => stop < from - PASSED);
    return next ?? recordTime(way > 0 ? duration : 0);
  };
  const starts = sections.map(({ start }) => start).sort((a, b) => a - b);
  const onKey = (event: KeyboardEvent) => {
    const from = event.shiftKey && marked ? marked.to : at;
    const to = goesTo(event.key, from);
    if (event.key === ' ') sound.toggle();
    else if (event.key === 'Enter') sound.hear(at);
    else if (event.key === 'Escape') {
      letGo();
      onEscape();
    } else if ((event.key === 'Delete' || event.key === 'Backspace') && marked) leaveOut(marked);
    else if (to === null) return;
    else if (event.shiftKey && mark) mark({ from: marked?.from ?? lineNear(at), to: lineNear(to) });
    else sound.goTo(to);
    event.preventDefault();
  };
  const goesTo = (key: string, from: RecordTime): RecordTime | null => {
    switch (key) {
      case 'ArrowLeft':
        return stepped(from, lines, -1);
      case 'ArrowRight':
        return stepped(from, lines, 1);
      case 'PageUp':
        return stepped(from, starts, -1);
      case 'PageDown':
        return stepped(from, starts, 1);
      case 'Home':
        return recordTime(0);
      case 'End':
        return recordTime(duration);
      default:
        return null;
    }
  };
  return (
    <div
      role="slider"
      tabIndex={0}
      aria-label={words.place}
      aria-valuemin={0}
      aria-valuemax={Math.round(duration)}
      aria-valuenow={Math.round(at)}
      aria-valuetext={`${name(at)}, ${clock(at, 1)}`}
      aria-description={words.keys}
      className="absolute inset-0 cursor-pointer touch-pan-y"
      onPointerDown={press}
      onPointerMove={move}
      onPointerUp={drop}
      onPointerCancel={letGo}
      onKeyDown={onKey}
    />
  );
}
