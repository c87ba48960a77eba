import { memo, useId } from 'react';
import type { DanceStrip as Strip } from '@/lib/core/handover/danceStripShape.ts';
import { onStrip } from './words.ts';

/** `full`: under a title, with the names of its parts over it. `small`: in a row of a list, or on a page about something else. */
export type StripSize = 'full' | 'small';

/** Px from the strip's top, by size: the music's parts from `top` to `foot`. */
export const LAYOUT = {
  full: { height: 32, top: 1, line: 16, half: 6, foot: 31 },
  small: { height: 24, top: 1, line: 12, half: 4, foot: 23 },
} as const;

/** A place on the strip's axis, for attributes of a drawing that is as wide as its page. */
export const shareOf =
  (length: number) =>
  (at: number): string =>
    `${Math.round((1e4 * Math.max(0, Math.min(length, at))) / Math.max(length, 1e-3)) / 100}%`;

/** Everything but the playhead: drawn anew only when the dance changes. */
export const StripDrawing = memo(function StripDrawing({ strip, size }: { strip: Strip; size: StripSize }) {
  const id = useId();
  const { top, line, half, foot } = LAYOUT[size];
  const share = shareOf(strip.length);
  const across = (from: number, to: number) => share(Math.max(0, to - from));
  const { parts, phrases, moves, walk, firstStep, pose, fade, leftOut, musicLength } = strip;
  return (
    <>
      <Defs id={id} />
      {parts.map(({ from, to, name, like }, i) => (
        <rect
          // biome-ignore lint/suspicious/noArrayIndexKey: parts come in the order of the song, and two may bear one name
          key={i}
          x={share(from)}
          y={top}
          width={across(from, to)}
          height={foot - top}
          className={like % 2 === 0 ? 'fill-paper-2' : 'fill-rule/60'}
        >
          <title>{onStrip.at(name, from)}</title>
        </rect>
      ))}
      {phrases.map(({ from, part }, i) => (
        <line
          key={from}
          x1={share(from)}
          x2={share(from)}
          y1={phrases[i - 1]?.part === part ? foot - (foot - top) / 4 : top}
          y2={foot}
          className="stroke-edge"
          strokeWidth={1}
        />
      ))}
      <line x1="0" x2="100%" y1={foot} y2={foot} className="stroke-edge" strokeWidth={1} />
      {walk ? (
        <line
          x1={share(walk.from)}
          x2={share(walk.to)}
          y1={line}
          y2={line}
          className="stroke-soft"
          strokeWidth={1.5}
          strokeDasharray="5 3"
        />
      ) : null}
      {firstStep === null ? null : (
        <line
          x1={share(firstStep)}
          x2={share(pose?.from ?? musicLength)}
          y1={line}
          y2={line}
          className="stroke-ink"
          strokeWidth={2}
          strokeLinecap="round"
          strokeDasharray="0.1 5"
        />
      )}
      {moves.map(({ id: move, from, to, name }) => (
        <rect
          key={move}
          x={share(from)}
          y={line - half}
          width={across(from, to)}
          height={2 * half}
          rx={half}
          className="fill-ink"
        >
          <title>{onStrip.at(name.toLowerCase(), from)}</title>
        </rect>
      ))}
      {firstStep === null ? null : (
        <circle
          cx={share(firstStep)}
          cy={line}
          r={half - 1}
          className="fill-paper stroke-ink"
          strokeWidth={1.8}
        >
          <title>{onStrip.at(onStrip.firstStep, firstStep)}</title>
        </circle>
      )}
      {fade ? (
        <rect
          x={share(fade.from)}
          y={top}
          width={across(fade.from, fade.to)}
          height={foot - top - 1}
          fill={`url(#${id}-fade)`}
        >
          <title>{onStrip.fades(fade.from)}</title>
        </rect>
      ) : null}
      {pose ? <Pose pose={pose} size={size} share={share} /> : null}
      {leftOut.map(({ at, words }) => (
        <svg key={at} x={share(at)} className="overflow-visible" aria-hidden="true">
          <g transform={`translate(${at === 0 ? 0 : at >= strip.length ? -SLIP : -SLIP / 2})`}>
            <rect y={top - 2} width={SLIP} height={foot - top + 3} className="fill-paper" />
            <rect
              y={top - 2}
              width={SLIP}
              height={foot - top + 3}
              fill={`url(#${id}-left-out)`}
              className="stroke-soft"
              strokeWidth={1}
              strokeDasharray="2 2"
            >
              <title>{onStrip.leftOut(words)}</title>
            </rect>
          </g>
        </svg>
      ))}
    </>
  );
});

/** Px of the slip of what is left out, however long that is. */
const SLIP = 8;

function Defs({ id }: { id: string }) {
  return (
    <defs>
      <pattern id={`${id}-left-out`} width="5" height="5" patternUnits="userSpaceOnUse">
        <path d="M-1 6 L6 -1 M-1 1 L1 -1 M4 6 L6 4" className="stroke-soft" strokeWidth={1.2} />
      </pattern>
      <linearGradient id={`${id}-fade`}>
        <stop offset="0" stopColor="var(--color-paper)" stopOpacity="0" />
        <stop offset="1" stopColor="var(--color-paper)" stopOpacity="0.9" />
      </linearGradient>
    </defs>
  );
}

/** The fermata, and how long the pose is kept. */
function Pose({
  pose: { from, to },
  size,
  share,
}: {
  pose: NonNullable<Strip['pose']>;
  size: StripSize;
  share: (at: number) => string;
}) {
  const { line, half } = LAYOUT[size];
  const r = half + 1;
  return (
    <g>
      <line
        x1={share(from)}
        x2={share(to)}
        y1={line}
        y2={line}
        className="stroke-gold"
        strokeWidth={3}
        strokeLinecap="round"
      />
      <svg x={share(from)} className="overflow-visible" aria-hidden="true">
        <path
          d={`M${-r} ${line - 2} a${r} ${r} 0 0 1 ${2 * r} 0`}
          className="fill-paper stroke-gold"
          strokeWidth={2}
        />
        <circle cy={line - 3} r={1.8} className="fill-gold" />
        <title>{onStrip.at(onStrip.pose, from)}</title>
      </svg>
    </g>
  );
}
