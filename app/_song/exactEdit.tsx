'use client';

import { playsWhole, type SongEnd, wholeSong } from '@/lib/core/edit/edit.ts';
import { USUAL_WISHES } from '@/lib/core/edit/propose.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Drawer } from '../_ui/drawer.tsx';
import { Choice, TextField } from '../_ui/field.tsx';
import {
  type BarPlace,
  firstFade,
  LEAST_FADE,
  MOST_FADE,
  usualBeat,
  withEnd,
  withFadeLength,
  withoutCut,
} from './handEdit.ts';
import { MoveJoin } from './moveJoin.tsx';
import { SeamFacts } from './seamFacts.tsx';
import { useSeams } from './useSeams.ts';
import type { SongChange } from './useSongChange.tsx';
import { length, page, ending as words } from './words.ts';

/** What the strip is too coarse for: a join to the count and the hundredth, a fade to its seconds and shape. */
export function ExactEdit({ places, change }: { places: BarPlace[]; change: SongChange }) {
  const plan = usePlan();
  const seams = useSeams();
  const edit = plan.edit ?? wholeSong;
  // A join keeps its place in the list, and the finger its button, while it is moved.
  const joins = edit.cuts.map((_, i) => ({ i, seam: seams[i], key: length.join(i + 1) }));
  return (
    <Drawer title={page.exactly}>
      <div className="space-y-4">
        {joins.map(({ i, seam, key }) => (
          <div key={key}>
            {joins.length > 1 ? <p className="font-semibold">{key}</p> : null}
            {seam ? <SeamFacts seam={seam} interval={usualBeat(plan.grid)} figures /> : null}
            <MoveJoin index={i} change={change} />
            <Button look="quiet" className="-ml-4" onClick={() => change.setEdit(withoutCut(edit, i))}>
              {length.putBack}
              <span className="sr-only">, {key}</span>
            </Button>
          </div>
        ))}
        <End places={places} change={change} />
        {playsWhole(edit) ? null : (
          <Button look="quiet" className="-ml-4" onClick={() => change.setEdit(wholeSong)}>
            {length.whole}
          </Button>
        )}
      </div>
    </Drawer>
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
    <div className="grid max-w-4xl items-baseline gap-4 sm:grid-cols-2 lg:grid-cols-4">
      <Choice
        label={words.ends}
        value={end.kind}
        onChange={({ target }) =>
          set(target.value === 'own' ? { kind: 'own' } : firstFade(edit, duration, wanted, places))
        }
      >
        <option value="own">{words.own}</option>
        <option value="fade">{words.fade}</option>
      </Choice>
      {end.kind === 'fade' ? (
        <>
          <TextField
            key={end.length}
            label={words.seconds}
            type="number"
            min={LEAST_FADE}
            max={MOST_FADE}
            step={0.5}
            defaultValue={end.length}
            onBlur={({ target }) => change.setEdit(withFadeLength(edit, target.value, duration))}
          />
          <Choice
            label={words.shape}
            value={end.shape}
            onChange={({ target }) => set({ ...end, shape: target.value === 'soft' ? 'soft' : 'linear' })}
          >
            <option value="linear">{words.even}</option>
            <option value="soft">{words.soft}</option>
          </Choice>
          <label className="flex min-h-11 items-center gap-2 self-end">
            <input
              type="checkbox"
              className="size-5 accent-ink"
              checked={end.byHand}
              onChange={({ target }) => set({ ...end, byHand: target.checked })}
            />
            {words.byHand}
          </label>
        </>
      ) : null}
    </div>
  );
}
