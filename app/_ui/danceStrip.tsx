'use client';

import { type KeyboardEvent, type MouseEvent, memo, useId } from 'react';
import type { DanceStrip as Strip } from '@/lib/core/handover/danceStripShape.ts';
import { clock, type FloorTime, floorTime } from '@/lib/core/units.ts';
import { phraseAt, phraseSentence, stripSentence, WHOLE_DANCE } from './words.ts';

/** `full`: under a title, with the names of its parts. `small`: in a row of a list, or on a page about something else. */
export type StripSize = 'full' | 'small';

/** Px from the strip's top, by size. The names of the parts stand over `top`, the music's parts from there to `foot`. */
const LAYOUT = {
  full: { height: 50, names: 12, top: 18, line: 33, half: 6, foot: 48 },
  small: { height: 24, names: 0, top: 1, line: 12, half: 4, foot: 23 },
} as const;

interface Props {
  strip: Strip;
  size?: StripSize;
  /** Where the music is; null for nowhere. */
  at?: FloorTime | null;
  /** Somebody goes to a moment, pressed or by arrow keys from phrase to phrase. Without it the strip is only looked at. */
  onGo?: (at: FloorTime) => void;
  /** Enter on the strip: whoever came by key goes on to what stands at this moment. */
  onEnter?: (at: FloorTime) => void;
  className?: string;
}

/**
 * The whole dance as one line: parts, phrases, moves, what is left out as hatched slips, first step, closing pose, and where the
 * music is. Drawn in shares of its width, so that it needs no measuring and stands in pages that the server draws.
 */
export function DanceStrip({ strip, size = 'full', at = null, onGo, onEnter, className = '' }: Props) {
  const { height, top, foot } = LAYOUT[size];
  const share = shareOf(strip.length);
  const drawn = (
    <svg height={height} className="block w-full overflow-visible" aria-hidden="true">
      <Drawn strip={strip} size={size} />
      {at === null ? null : (
        <line
          x1={share(at)}
          x2={share(at)}
          y1={top - 1}
          y2={foot + 1}
          className="stroke-ink"
          strokeWidth={2.5}
          data-strip-at=""
        />
      )}
    </svg>
  );
  if (!onGo) {
    return (
      <div className={className} role="img" aria-label={stripSentence(strip)}>
        {drawn}
      </div>
    );
  }
  const here = phraseAt(strip, at ?? floorTime(0));
  const goTo = (phrase: number) => {
    const next = strip.phrases[Math.max(0, Math.min(strip.phrases.length - 1, phrase))];
    if (next) onGo(next.from);
  };
  const onKey = (event: KeyboardEvent) => {
    const to = keyGoesTo(event.key, here, strip.phrases.length);
    if (event.key === 'Enter' && onEnter) onEnter(strip.phrases[here]?.from ?? floorTime(0));
    else if (to === null) return;
    else goTo(to);
    event.preventDefault();
  };
  const onClick = (event: MouseEvent<HTMLDivElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const place = Math.max(0, Math.min(1, (event.clientX - box.left) / box.width));
    onGo(floorTime(place * strip.length));
  };
  return (
    <div
      className={`cursor-pointer ${className}`}
      role="slider"
      tabIndex={0}
      aria-label={WHOLE_DANCE}
      aria-valuemin={1}
      aria-valuemax={Math.max(1, strip.phrases.length)}
      aria-valuenow={Math.max(1, here + 1)}
      aria-valuetext={here < 0 ? stripSentence(strip) : phraseSentence(strip, here)}
      aria-description={stripSentence(strip)}
      onClick={onClick}
      onKeyDown={onKey}
    >
      {drawn}
    </div>
  );
}

function keyGoesTo(key: string, here: number, phrases: number): number | null {
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowUp':
      return here - 1;
    case 'ArrowRight':
    case 'ArrowDown':
      return here + 1;
    case 'Home':
      return 0;
    case 'End':
      return phrases - 1;
    default:
      return null;
  }
}

const shareOf =
  (length: number) =>
  (at: number): string =>
    `${Math.round((1e4 * Math.max(0, Math.min(length, at))) / Math.max(length, 1e-3)) / 100}%`;

/** Everything but the playhead: drawn anew only when the dance changes. */
const Drawn = memo(function Drawn({ strip, size }: { strip: Strip; size: StripSize }) {
  const id = useId();
  const { names, top, line, half, foot } = LAYOUT[size];
  const share = shareOf(strip.length);
  const across = (from: number, to: number) => share(Math.max(0, to - from));
  const { parts, phrases, moves, walk, firstStep, pose, fade, leftOut, musicLength } = strip;
  return (
    <>
      <Defs id={id} />
      {parts.map(({ from, to, name, like }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: parts come in the order of the song, and two may bear one name
        <g key={i}>
          <rect
            x={share(from)}
            y={top}
            width={across(from, to)}
            height={foot - top}
            className={like % 2 === 0 ? 'fill-paper-2' : 'fill-rule/60'}
          >
            <title>{`${name}, ${clock(from)}`}</title>
          </rect>
          {names > 0 ? (
            <svg
              x={share(from)}
              width={across(from, to)}
              height={top}
              className="overflow-hidden"
              aria-hidden="true"
            >
              <text x={1} y={names} className="fill-soft text-[13px]">
                {name}
              </text>
            </svg>
          ) : null}
        </g>
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
          <title>{`${name.toLowerCase()}, ${clock(from)}`}</title>
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
          <title>{`first step, ${clock(firstStep)}`}</title>
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
          <title>{`the music fades from ${clock(fade.from)}`}</title>
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
              <title>{`left out: ${words}`}</title>
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
        <title>{`closing pose, ${clock(from)}`}</title>
      </svg>
    </g>
  );
}
