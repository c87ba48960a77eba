import type { RowInk, Taper as TaperInk } from '@/lib/core/handover/sheetInk.ts';
import { landingSide } from './captions.ts';
import { HALF, HEIGHT, LINE, RULER, round, WORDS, widthOf } from './shapes.ts';

type X = (at: number) => number;

/** The preparation of a move, growing through the basic before it. */
export function Taper({ taper, x }: { taper: TaperInk; x: X }) {
  const from = x(taper.from);
  const to = x(taper.to);
  const a = round(taper.fromShare * HALF);
  const b = round(taper.toShare * HALF);
  return (
    <path
      d={`M${from} ${LINE - a} L${to} ${LINE - b} V${LINE + b} L${from} ${LINE + a} Z`}
      className="pointer-events-none fill-ink/25"
    />
  );
}

/** Coming on, as a line of paces, and the circle of the first step. */
export function Walk({ ink, x, width }: { ink: RowInk; x: X; width: number }) {
  const { walk, walkWords, firstStep } = ink;
  const at = walkWords ? x(walkWords.at) : 0;
  const fits = walkWords && widthOf(walkWords.words) <= width - 8;
  const last = walkWords && at + widthOf(walkWords.words) > width;
  return (
    <g className="pointer-events-none">
      {walk ? (
        <line
          x1={x(walk.from)}
          x2={x(walk.to)}
          y1={LINE}
          y2={LINE}
          className="stroke-soft"
          strokeWidth={1.6}
          strokeDasharray="9 6"
        />
      ) : null}
      {fits ? (
        <text
          x={last ? width : at}
          y={WORDS + 4}
          textAnchor={last ? 'end' : 'start'}
          className="fill-soft text-[15px]"
        >
          {walkWords.words}
        </text>
      ) : null}
      {firstStep !== null ? (
        <>
          <circle cx={x(firstStep)} cy={LINE} r={6} className="fill-paper stroke-ink" strokeWidth={2} />
          <text x={x(firstStep) + 11} y={WORDS + 4} className="fill-ink text-[15px] font-semibold">
            first step
          </text>
        </>
      ) : null}
    </g>
  );
}

/** The closing pose: the musician's fermata, and the line of how long it is kept. */
export function Landing({ ink, x, width }: { ink: RowInk; x: X; width: number }) {
  const { landing, hold } = ink;
  const at = landing ? x(landing.at) : 0;
  const side = landingSide(ink, x, width);
  return (
    <g className="pointer-events-none">
      {hold ? (
        <line
          x1={x(hold.from)}
          x2={x(hold.to)}
          y1={LINE}
          y2={LINE}
          className="stroke-gold"
          strokeWidth={4}
          strokeLinecap="round"
        />
      ) : null}
      {landing ? (
        <>
          <path
            d={`M${at - 11} ${WORDS + 3} a11 11 0 0 1 22 0`}
            className="fill-none stroke-gold"
            strokeWidth={2.4}
          />
          <circle cx={at} cy={WORDS} r={2.6} className="fill-gold" />
          {side ? (
            <text
              x={at + (side === 'right' ? 18 : -18)}
              y={WORDS}
              textAnchor={side === 'right' ? 'start' : 'end'}
              className="fill-gold text-[15px] font-medium"
            >
              {landing.words}
            </text>
          ) : null}
        </>
      ) : null}
    </g>
  );
}

/** A stitch where two parts of the recording meet; in wine when the counts do not go on over it. */
export function Seams({ seams, x }: { seams: RowInk['seams']; x: X }) {
  return seams.map(({ at, clean }) => (
    <g key={at} className={`pointer-events-none ${clean ? 'stroke-ink' : 'stroke-wine'}`} strokeWidth={1.5}>
      <title>{clean ? 'a join, on the beat' : 'a join that is off the beat'}</title>
      <line x1={x(at)} x2={x(at)} y1={2} y2={HEIGHT - 4} strokeDasharray="3 4" />
      {[10, LINE - 8, LINE + 8, RULER + 4].map((y) => (
        <line key={y} x1={x(at) - 4.5} x2={x(at) + 4.5} y1={y + 3.5} y2={y - 3.5} />
      ))}
    </g>
  ));
}
