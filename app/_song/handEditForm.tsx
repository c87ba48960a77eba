'use client';

import { useState } from 'react';
import { type SongEnd, wholeSong } from '@/lib/core/edit/edit.ts';
import { USUAL_WISHES } from '@/lib/core/edit/propose.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Choice, TextField } from '../_ui/field.tsx';
import {
  type BarPlace,
  firstFade,
  LEAST_FADE,
  MOST_FADE,
  withCut,
  withEnd,
  withFadeLength,
  withStart,
} from './handEdit.ts';
import type { SongChange } from './useSongChange.tsx';

/** An edit by hand: where it starts, what is left out, how it ends; each by section and bar. */
export function HandEdit({ places, change }: { places: BarPlace[]; change: SongChange }) {
  const plan = usePlan();
  const [from, setFrom] = useState(0);
  const [to, setTo] = useState(0);
  const duration = plan.recording?.duration ?? 0;
  const edit = plan.edit ?? wholeSong;
  const startIndex = edit.start === 0 ? -1 : nearest(places, edit.start);
  return (
    <details className="mt-3">
      <summary className="inline-flex min-h-11 items-center font-semibold underline underline-offset-4">
        Edit by hand
      </summary>
      <div className="mt-2 space-y-6 border-l-2 border-rule pl-4">
        <div className="max-w-xs">
          <Choice
            label="Start"
            value={startIndex}
            onChange={({ target }) => {
              const place = places[Number(target.value)];
              change.setEdit(withStart(edit, place?.at ?? 0, duration));
            }}
          >
            <option value={-1}>with the recording</option>
            <BarOptions places={places} />
          </Choice>
        </div>
        <fieldset className="grid items-baseline gap-4 sm:grid-cols-[1fr_1fr_auto]">
          <legend className="mb-1 font-serif text-lg">Leave out</legend>
          <Choice label="from" value={from} onChange={({ target }) => setFrom(Number(target.value))}>
            <BarOptions places={places} />
          </Choice>
          <Choice label="to" value={to} onChange={({ target }) => setTo(Number(target.value))}>
            <BarOptions places={places} />
          </Choice>
          <Button
            onClick={() => {
              const [begin, end] = [places[from], places[to]];
              if (begin && end) change.setEdit(withCut(edit, begin.at, end.at, duration));
            }}
          >
            Leave this out
          </Button>
        </fieldset>
        <End places={places} change={change} />
      </div>
    </details>
  );
}

function End({ places, change }: { places: BarPlace[]; change: SongChange }) {
  const plan = usePlan();
  const edit = plan.edit ?? wholeSong;
  const duration = plan.recording?.duration ?? 0;
  const { end } = edit;
  const wanted = plan.target?.length ?? USUAL_WISHES.target;
  const set = (next: SongEnd) => change.setEdit(withEnd(edit, next, duration));
  return (
    <fieldset className="space-y-3">
      <legend className="mb-1 font-serif text-lg">End</legend>
      <div className="max-w-xs">
        <Choice
          label="The song ends"
          value={end.kind}
          onChange={({ target }) =>
            set(target.value === 'own' ? { kind: 'own' } : firstFade(edit, duration, wanted, places))
          }
        >
          <option value="own">as the recording does</option>
          <option value="fade">with a fade</option>
        </Choice>
      </div>
      {end.kind === 'fade' ? (
        <div className="grid items-baseline gap-4 sm:grid-cols-2 lg:grid-cols-4">
          <Choice
            label="Fade from"
            value={nearest(places, end.from)}
            onChange={({ target }) => {
              const place = places[Number(target.value)];
              if (place) set({ ...end, from: place.at });
            }}
          >
            <BarOptions places={places} />
          </Choice>
          <TextField
            key={end.length}
            label="Seconds until silent"
            type="number"
            min={LEAST_FADE}
            max={MOST_FADE}
            step={0.5}
            defaultValue={end.length}
            onBlur={({ target }) => change.setEdit(withFadeLength(edit, target.value, duration))}
          />
          <Choice
            label="Shape"
            value={end.shape}
            onChange={({ target }) => set({ ...end, shape: target.value === 'soft' ? 'soft' : 'linear' })}
          >
            <option value="linear">even</option>
            <option value="soft">soft: faster at first</option>
          </Choice>
          <label className="flex min-h-11 items-center gap-2 self-end">
            <input
              type="checkbox"
              className="size-5 accent-ink"
              checked={end.byHand}
              onChange={({ target }) => set({ ...end, byHand: target.checked })}
            />
            the DJ fades by hand
          </label>
        </div>
      ) : null}
    </fieldset>
  );
}

/** Bars by section, as the options of a choice. */
function BarOptions({ places }: { places: BarPlace[] }) {
  const groups: { section: string; bars: { index: number; bar: number }[] }[] = [];
  for (const [index, { section, bar }] of places.entries()) {
    if (groups.at(-1)?.section !== section) groups.push({ section, bars: [] });
    groups.at(-1)!.bars.push({ index, bar });
  }
  return groups.map(({ section, bars }) => (
    <optgroup key={bars[0]!.index} label={section}>
      {bars.map(({ index, bar }) => (
        <option key={index} value={index}>
          {bar === 1 ? section : `${section}, bar ${bar}`}
        </option>
      ))}
    </optgroup>
  ));
}

function nearest(places: readonly BarPlace[], at: number): number {
  let best = 0;
  for (const [i, place] of places.entries()) {
    if (Math.abs(place.at - at) < Math.abs(places[best]!.at - at)) best = i;
  }
  return best;
}
