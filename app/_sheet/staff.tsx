import { type KeyboardEvent, type MouseEvent, memo, useMemo, useState } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { Ribbon, RowInk } from '@/lib/core/handover/sheetInk.ts';
import { countUnder, type SheetRow } from '@/lib/core/handover/sheetRows.ts';
import { clock } from '@/lib/core/units.ts';
import { type RibbonHandlers, RibbonView } from './ribbonView.tsx';
import { rowName } from './rowWords.ts';
import { Ruler } from './ruler.tsx';
import { said } from './said.ts';
import { HALF, HEIGHT, LINE, RULER, round, SUNG, SUNG_HEIGHT, tintPath, WORDS, widthOf } from './shapes.ts';
import { Landing, Seams, Taper, Walk } from './signs.tsx';
import { tintPoints } from './tint.ts';
import { Unread } from './unread.tsx';

export interface StaffHandlers extends RibbonHandlers {
  /** Somebody chose a count with the pointer. */
  onCount(at: number): void;
  /** The counts of a row have the focus, on this count. */
  onCountFocus(at: number): void;
  /** A key on the counts of a row. */
  onCountKey(at: number, event: KeyboardEvent): void;
}

export interface StaffProps {
  score: FloorScore;
  row: SheetRow;
  ink: RowInk;
  /** How loud the whole song is, from `tintOf`. */
  tint: readonly number[];
  /** Px of the widest row, and the counts it holds. */
  width: number;
  columns: number;
  /** Counts of what is in hand, to be put on a count here; null when nothing is. */
  placing: number | null;
  /** The count that is chosen, when it is in this row. */
  cursor: number | null;
  chosen: string | null;
  /** Ids of moves that others have in hand, joined by `|`. */
  held: string;
  handlers: StaffHandlers | null;
}

/** No darker: the counts' numbers lie on it, and are read at 4.5 to 1 (WCAG 2.2, 1.4.3). */
const TINTED = 'fill-rule/45';
/** Px before the count of the closing pose that its sign takes. */
const FERMATA = 16;

/** The drawing of a row: tint, ruler, basic, moves, walk-on and closing pose over its counts. */
export const Staff = memo(function Staff({
  score,
  row,
  ink,
  tint,
  width,
  columns,
  placing,
  cursor,
  chosen,
  held,
  handlers,
}: StaffProps) {
  const loudness = useMemo(() => tintPoints(tint, row.first, row.counts), [tint, row]);
  const name = rowName(row, ink);
  const [hover, setHover] = useState<number | null>(null);
  const unit = width / columns;
  const x = (at: number) => round((at - row.first) * unit);
  const end = x(row.first + row.counts);
  const at = cursor ?? row.first;
  const ghost = placing !== null ? (hover ?? cursor) : null;

  const under = (event: MouseEvent<SVGRectElement>) => {
    const box = event.currentTarget.ownerSVGElement!.getBoundingClientRect();
    return countUnder(row, columns, (event.clientX - box.left) / box.width);
  };
  // Where the next thing in the way of a name begins: a ribbon, or the sign of the closing pose.
  const starts = [
    ...ink.ribbons.map((ribbon) => x(ribbon.from)),
    ...(ink.landing ? [x(ink.landing.at) - FERMATA] : []),
  ].sort((a, b) => a - b);
  const roomAfter = (from: number) => (starts.find((start) => start > from + 1) ?? width) - from - 6;
  // Nothing else stands there: words may lean back over a line that is only danced.
  const leanBefore = ({ from }: Ribbon) => {
    if (ink.walkWords !== null || ink.firstStep !== null || ink.landing !== null) return 0;
    const ends = ink.ribbons
      .filter((ribbon) => ribbon.from < from)
      .map((ribbon) => Math.max(x(ribbon.to), x(ribbon.from) + widthOf(ribbon.label) + 20));
    return x(from) - Math.max(0, ...ends) - 6;
  };
  const count = score.counts[at];

  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing's group, not a form's
    <svg
      viewBox={`0 0 ${width} ${HEIGHT + (ink.words.length > 0 ? SUNG_HEIGHT : 0)}`}
      // Apart, so that the browser paints anew only the rows that have changed.
      className="isolate block w-full overflow-visible select-none"
      role="group"
      aria-label={`Counts of ${name}`}
      aria-hidden={handlers ? undefined : 'true'}
    >
      {/* What is drawn is told in words before it; here only what can be chosen is read. */}
      <path d={tintPath(loudness, unit)} className={TINTED} data-tint="" />
      <Ruler score={score} row={row} unit={unit} all={placing !== null || cursor !== null} />
      {ink.basics.map((basic) => (
        <line
          key={basic.from}
          x1={x(basic.from) + (basic.from === ink.firstStep ? 12 : 4)}
          x2={Math.max(x(basic.from) + 5, x(basic.to) - 4)}
          y1={LINE}
          y2={LINE}
          className="stroke-ink"
          strokeWidth={2.8}
          strokeLinecap="round"
          strokeDasharray="0.1 7.4"
        />
      ))}
      {ink.fade ? <Fading score={score} row={row} fade={ink.fade} x={x} /> : null}
      {ink.tapers.map((taper) => (
        <Taper key={`${taper.from}-${taper.to}`} taper={taper} x={x} />
      ))}
      {handlers && row.counts > 0 ? (
        <rect
          id={`counts-${row.id}`}
          x={0}
          y={WORDS}
          width={end}
          height={HEIGHT - WORDS}
          className={`fill-transparent ${placing === null ? 'cursor-pointer' : 'cursor-copy'}`}
          role="slider"
          tabIndex={0}
          aria-label={`Counts of ${name}`}
          aria-valuemin={1}
          aria-valuemax={row.counts}
          aria-valuenow={at - row.first + 1}
          aria-valuetext={count ? `count ${said(score, count)}, ${clock(count.floor, 1)}` : undefined}
          onClick={(event) => handlers.onCount(under(event))}
          onPointerMove={placing === null ? undefined : (event) => setHover(under(event))}
          onPointerLeave={() => setHover(null)}
          onFocus={() => handlers.onCountFocus(at)}
          onKeyDown={(event) => handlers.onCountKey(at, event)}
        />
      ) : null}
      {cursor !== null ? (
        <path
          d={`M${x(cursor)} ${RULER - 1} l-5 -9 h10 Z M${x(cursor)} ${LINE - HALF - 6} V${RULER}`}
          className="pointer-events-none fill-ink stroke-ink"
          strokeWidth={1.5}
        />
      ) : null}
      {ghost !== null && placing !== null ? (
        <rect
          x={x(ghost)}
          y={LINE - HALF}
          width={Math.max(8, Math.min(placing * unit, end - x(ghost)))}
          height={2 * HALF}
          rx={HALF}
          className="pointer-events-none fill-ink/25 stroke-ink"
          strokeDasharray="2 3"
        />
      ) : null}
      <Unread>
        {ink.words
          .map(({ id, at: place, word }, i) => {
            const next = ink.words[i + 1]?.at ?? Number.POSITIVE_INFINITY;
            const chosenIn = cursor !== null && cursor >= Math.floor(place) && cursor < next;
            return (
              <Sung
                key={id}
                word={word}
                from={x(place)}
                to={Math.min(width, x(next))}
                {...{ width, chosenIn }}
              />
            );
          })
          // The first is drawn last: whole, it lies over those after it.
          .reverse()}
      </Unread>
      {/* While a count is chosen for something, moves must not lie in the way. */}
      <g className={placing === null ? undefined : 'pointer-events-none'}>
        {ink.ribbons.map((ribbon) => (
          <RibbonView
            key={ribbon.id}
            ribbon={ribbon}
            from={x(ribbon.from) + (ribbon.begins ? 1 : ribbon.outline ? -8 : 0)}
            to={x(ribbon.to) + (ribbon.finishes ? (ribbon.points ? 0 : -1.5) : ribbon.outline ? 10 : 0)}
            room={roomAfter(x(ribbon.from))}
            lean={leanBefore(ribbon)}
            label={`${ribbon.label}, at ${clock(score.counts[Math.floor(ribbon.from)]?.floor ?? 0)} in ${name}`}
            chosen={chosen === ribbon.id}
            held={held.split('|').includes(ribbon.id)}
            handlers={handlers}
          />
        ))}
      </g>
      <Unread>
        <Walk ink={ink} x={x} width={width} />
        <Landing ink={ink} x={x} width={width} />
        <Seams seams={ink.seams} x={x} />
      </Unread>
    </svg>
  );
});

/**
 * A word that is sung inside of the row, from its count on; one that does not fit before the row's end moves back. What is too
 * long is cut, and whole while the count that is chosen lies in it.
 */
function Sung({
  word,
  from,
  to,
  width,
  chosenIn,
}: {
  word: string;
  from: number;
  to: number;
  width: number;
  chosenIn: boolean;
}) {
  // Before another word it keeps its place, and gives way at its end.
  const tight = to < width && !chosenIn;
  const look = tight ? 'truncate' : `max-w-full shrink-0 ${chosenIn ? 'bg-paper break-words' : 'truncate'}`;
  return (
    <foreignObject y={SUNG - SUNG_HEIGHT} width={tight ? to : width} height={1} className="overflow-visible">
      <div className="flex">
        <span style={{ flex: tight ? 'none' : '0 1 auto', width: from }} />
        <p dir="auto" className={`sung min-w-0 text-left text-[17px] leading-tight ${look}`}>
          {word}
        </p>
      </div>
    </foreignObject>
  );
}

/** The ink fades with the music: paper laid over it, thicker and thicker. */
function Fading({
  score,
  row,
  fade,
  x,
}: {
  score: FloorScore;
  row: SheetRow;
  fade: { from: number; to: number };
  x: (at: number) => number;
}) {
  const all = score.fade!;
  const share = (at: number) => {
    const floor = score.counts[Math.floor(at)]?.floor ?? all.to;
    return Math.max(0, Math.min(0.9, (0.9 * (floor - all.from)) / (all.to - all.from)));
  };
  return (
    <g>
      <linearGradient
        id={`fade-${row.id}`}
        gradientUnits="userSpaceOnUse"
        x1={x(fade.from)}
        x2={x(fade.to)}
        y1={0}
        y2={0}
      >
        <stop offset="0" stopColor="var(--color-paper)" stopOpacity={share(fade.from)} />
        <stop offset="1" stopColor="var(--color-paper)" stopOpacity={share(fade.to)} />
      </linearGradient>
      <rect
        x={x(fade.from)}
        y={LINE - HALF}
        width={x(fade.to) - x(fade.from) + 2}
        height={HEIGHT - LINE + HALF}
        fill={`url(#fade-${row.id})`}
      />
    </g>
  );
}
