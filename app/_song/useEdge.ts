import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef, useState } from 'react';
import { type Edit, wholeSong } from '@/lib/core/edit/edit.ts';
import { clock, type RecordTime } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { type Edge, lineOf, linesOf, withEdgeAt, withEdgeMoved } from './edges.ts';
import { barPlaces, placeWords, usualBeat } from './handEdit.ts';
import { nearestLine, type Step } from './seamMoves.ts';
import { strip as words } from './stripWords.ts';
import type { SongChange } from './useSongChange.tsx';

/** What each key does to an edge. */
const KEYS: Record<string, { step: Step; way: 1 | -1 }> = {
  ArrowLeft: { step: 'count', way: -1 },
  ArrowRight: { step: 'count', way: 1 },
  PageUp: { step: 'bar', way: -1 },
  PageDown: { step: 'bar', way: 1 },
};

/** The edge that keys have just moved: moving may draw its part of the page anew, and the focus stays with it. */
let moved = '';

/** The press with which an edge was grasped: where, and on which line it was. */
interface Grasp {
  x: number;
  line: number;
}

interface Drawing {
  /** Index of the line that a pointer means. */
  lineAt(x: number, grasp: Grasp, lines: readonly RecordTime[]): number;
  /** The edit as it would be, while it is drawn; null when that ends. */
  onDrawn?(edit: Edit | null): void;
}

/** An edge of the edit as a slider: to be drawn along by bars, or moved by keys. Null where there is none. */
export function useEdge(edge: Edge, change: SongChange, { lineAt, onDrawn }: Drawing) {
  const { grid, recording, sections, edit: present } = usePlan();
  const handle = useRef<HTMLDivElement>(null);
  const key = JSON.stringify(edge);
  useEffect(() => {
    if (moved === key) handle.current?.focus({ preventScroll: true });
    if (moved === key) moved = '';
  });
  const grasp = useRef<Grasp | null>(null);
  const [drawn, setDrawn] = useState<RecordTime | null>(null);
  const edit = present ?? wholeSong;
  const places = useMemo(() => (grid ? barPlaces(grid, sections) : []), [grid, sections]);
  if (!grid || !recording || (edge.kind !== 'start' && edge.kind !== 'end' && !edit.cuts[edge.index]))
    return null;
  const { duration } = recording;
  const own = lineOf(edit, edge, duration);
  const at = drawn ?? own;
  const isOwnEnd = edge.kind === 'end' && at >= duration;
  const role = edge.kind === 'end' ? (isOwnEnd ? 'own' : 'fade') : edge.kind;
  const said =
    isOwnEnd || (edge.kind === 'start' && at === 0)
      ? isOwnEnd
        ? words.asTheRecording
        : words.beginning
      : placeWords(places, at, usualBeat(grid) / 2);

  const lines = linesOf(edit, edge, { grid, duration });
  const draw = (line: RecordTime | null) => {
    setDrawn(line);
    const next = line === null ? null : withEdgeAt(edit, edge, line, duration);
    onDrawn?.(next?.ok ? next.value : null);
  };
  const lineUnder = (x: number): RecordTime => lines[lineAt(x, grasp.current!, lines)]!;
  const letGo = () => {
    grasp.current = null;
    draw(null);
  };
  return {
    said,
    role,
    at,
    slider: {
      ref: handle,
      role: 'slider',
      tabIndex: 0,
      'aria-label': words.edges[role],
      'aria-valuemin': 0,
      'aria-valuemax': Math.round(duration),
      'aria-valuenow': Math.round(at),
      'aria-valuetext': `${said}, ${clock(at, 2)}`,
      'aria-description': words.edgeKeys,
      onPointerDown(event: PointerEvent<HTMLElement>) {
        if (event.button !== 0) return;
        event.currentTarget.setPointerCapture(event.pointerId);
        grasp.current = { x: event.clientX, line: nearestLine(lines, own) };
      },
      onPointerMove(event: PointerEvent<HTMLElement>) {
        if (grasp.current) draw(lineUnder(event.clientX));
      },
      onPointerUp(event: PointerEvent<HTMLElement>) {
        if (!grasp.current) return;
        const { line } = grasp.current;
        const to = lineUnder(event.clientX);
        letGo();
        if (to !== lines[line]) change.setEdit(withEdgeAt(edit, edge, to, duration));
      },
      onPointerCancel: letGo,
      onKeyDown(event: KeyboardEvent) {
        if (event.key === 'Escape' && grasp.current) return letGo();
        const pressed = KEYS[event.key];
        if (!pressed) return;
        event.preventDefault();
        const step = event.shiftKey && pressed.step === 'count' ? '10 ms' : pressed.step;
        moved = key;
        change.setEdit(withEdgeMoved(edit, edge, step, pressed.way, { grid, duration }));
      },
    },
  } as const;
}
