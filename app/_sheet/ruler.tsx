import type { FloorCount, FloorScore } from '@/lib/core/edit/score.ts';
import type { SheetRow } from '@/lib/core/handover/sheetRows.ts';
import { said, saidRound } from './said.ts';
import { NUMBERS, RULER, round } from './shapes.ts';
import { Unread } from './unread.tsx';

const TICKS: { className: string; height: number; of(count: FloorCount): boolean }[] = [
  { className: 'stroke-soft', height: 10, of: ({ assumed, inBar }) => !assumed && inBar === 0 },
  { className: 'stroke-edge', height: 4.5, of: ({ assumed, inBar }) => !assumed && inBar > 0 },
  { className: 'stroke-rule', height: 4.5, of: ({ assumed }) => assumed },
];

/** The row's ruler: ticks for bars and counts, and what dancers say on them (`all`, or only the first round). */
export function Ruler({
  score,
  row,
  unit,
  all,
}: {
  score: FloorScore;
  row: SheetRow;
  unit: number;
  all: boolean;
}) {
  const counts = score.counts.slice(row.first, row.first + row.counts);
  const end = row.counts * unit;
  const numbered = all && unit >= 15 ? row.counts : saidRound(score);
  return (
    <Unread>
      <line x1={0} x2={end} y1={RULER} y2={RULER} className="stroke-edge" strokeWidth={1} />
      {TICKS.map(({ className, height, of }) => (
        // One path for all of a kind: a long song has a thousand counts.
        <path
          key={className}
          d={counts
            .flatMap((count, i) => (of(count) ? `M${round(i * unit)} ${RULER}v${-height}` : []))
            .join('')}
          className={className}
          strokeWidth={1}
        />
      ))}
      {counts.slice(0, numbered).map((count, i) => (
        <text
          key={count.index}
          x={round(i * unit)}
          y={NUMBERS}
          className="fill-soft text-[14px]"
          data-number=""
        >
          {said(score, count)}
        </text>
      ))}
    </Unread>
  );
}
