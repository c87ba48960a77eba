import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { SheetRow } from './layout.ts';
import { said, saidRound } from './said.ts';
import { NUMBERS, RULER, round } from './shapes.ts';
import { Unread } from './unread.tsx';

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
      {counts.map((count, i) => (
        <line
          key={count.index}
          x1={round(i * unit)}
          x2={round(i * unit)}
          y1={RULER}
          y2={RULER - (count.inBar === 0 ? 10 : 4.5)}
          className={count.assumed ? 'stroke-rule' : count.inBar === 0 ? 'stroke-soft' : 'stroke-edge'}
          strokeWidth={1}
        />
      ))}
      {counts.slice(0, numbered).map((count, i) => (
        <text key={count.index} x={round(i * unit)} y={NUMBERS} className="fill-soft text-[14px]">
          {said(score, count)}
        </text>
      ))}
    </Unread>
  );
}
