'use client';

import type { Edit } from '@/lib/core/edit/edit.ts';
import { usePlan } from '../_client/room.tsx';
import type { Hearing } from './handEdit.ts';
import { useHearings, useSongSound } from './songSound.tsx';
import { type Share, stripHeard } from './strip.ts';
import { percent, StripPicture, useOutline } from './stripPicture.tsx';
import { length as words } from './words.ts';

/** An edit as a strip, to the scale of the song's own: pressed it plays the join or the fade that is nearest. */
export function PressedStrip({ edit, name }: { edit: Edit; name: string }) {
  const plan = usePlan();
  const outline = useOutline();
  const { excerpt, hearExcerpt } = useSongSound();
  const zones = useZones(edit);
  const of = JSON.stringify(edit);
  return (
    <div className="relative h-9">
      <StripPicture plan={plan} edit={edit} outline={outline} />
      {zones.map(({ hearing, zone, at, heard }) => {
        const state = excerpt?.of === of && excerpt.key === hearing.key ? excerpt : null;
        return (
          <button
            key={hearing.key}
            type="button"
            aria-pressed={state !== null}
            aria-label={words.hearOf(hearing.words, name)}
            title={words.hear(hearing.words)}
            onClick={() => hearExcerpt(edit, { ...hearing, of })}
            className="group absolute -inset-y-1"
            style={{ left: percent(zone.from), width: percent(zone.to - zone.from) }}
          >
            <svg
              viewBox="0 0 28 28"
              className="pointer-events-none absolute top-1/2 size-7 -translate-1/2 overflow-visible"
              style={{ left: percent((at - zone.from) / (zone.to - zone.from)) }}
              aria-hidden="true"
            >
              <circle
                cx={14}
                cy={14}
                r={13}
                className="fill-paper stroke-ink group-hover:fill-paper-2"
                strokeWidth={2}
                strokeDasharray={state && !state.ready ? '3 3' : undefined}
              />
              <path d={state ? 'M9 9h10v10H9z' : 'M11 8v12l9-6z'} className="fill-ink" />
            </svg>
            {state
              ? heard.map((part) => (
                  <span
                    key={part.from}
                    className="pointer-events-none absolute bottom-0 h-1 bg-ink"
                    style={within(zone, part)}
                  />
                ))
              : null}
          </button>
        );
      })}
    </div>
  );
}

interface Zone {
  hearing: Hearing;
  /** Of the strip, all of which belongs to one or the other. */
  zone: Share;
  /** Where the join is, or the fade. */
  at: number;
  heard: Share[];
}

function useZones(edit: Edit): Zone[] {
  const { recording } = usePlan();
  const found = useHearings(edit);
  const places = found.map((hearing) => {
    const heard = stripHeard({ edit, recording }, hearing);
    // A join in the middle of what is left out there, a fade in its own.
    const [from, to] = [heard[0], heard.at(-1)];
    const at = from && to ? (from === to ? from.from + from.to : from.to + to.from) / 2 : 0;
    return { hearing, at, heard };
  });
  return places.map((place, i) => {
    const [before, after] = [places[i - 1], places[i + 1]];
    const zone = {
      from: before ? (before.at + place.at) / 2 : 0,
      to: after ? (place.at + after.at) / 2 : 1,
    };
    return { ...place, zone };
  });
}

const within = (zone: Share, { from, to }: Share) => ({
  left: percent((from - zone.from) / (zone.to - zone.from)),
  width: percent((to - from) / (zone.to - zone.from)),
});
