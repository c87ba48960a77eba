'use client';

import type { KeyboardEvent, MouseEvent } from 'react';
import type { DanceStrip as Strip } from '@/lib/core/handover/danceStripShape.ts';
import { type FloorTime, floorTime } from '@/lib/core/units.ts';
import { LAYOUT, StripDrawing, type StripSize, shareOf } from './stripDrawing.tsx';
import { phraseAt, phraseSentence, stripSentence, WHOLE_DANCE } from './words.ts';

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
  const drawing = (
    <svg height={height} className="block w-full overflow-visible" aria-hidden="true">
      <StripDrawing strip={strip} size={size} />
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
  const drawn =
    size === 'full' ? (
      <>
        <PartNames strip={strip} />
        {drawing}
      </>
    ) : (
      drawing
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

/**
 * The names of the parts, each where all of it has room over its part. The last, which is often short, stands at the strip's end and
 * takes what it lacks from the one before.
 */
function PartNames({ strip: { parts, length } }: { strip: Strip }) {
  const share = shareOf(length);
  const from = parts[0]?.from ?? 0;
  const last = parts.length - 1;
  return (
    <div aria-hidden="true" className="flex h-[18px] text-[13px] leading-[17px] text-soft">
      <span className="shrink-0" style={{ flexBasis: share(from) }} />
      {parts.map((part, i) => (
        <span
          // biome-ignore lint/suspicious/noArrayIndexKey: parts come in the order of the song, and two may bear one name
          key={i}
          // What does not fit beside nothing at all goes into a second line, which is out of sight.
          className={`flex min-w-0 flex-wrap content-start overflow-hidden pl-px before:h-full before:content-[''] ${i === last ? 'min-w-max shrink-0 justify-end' : i === last - 1 ? 'shrink' : 'shrink-0'}`}
          style={{ flexBasis: share(part.to - part.from) }}
        >
          <span className="whitespace-nowrap">{part.name}</span>
        </span>
      ))}
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
