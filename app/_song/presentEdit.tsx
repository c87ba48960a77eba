'use client';

import { useMemo, useState } from 'react';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { seamFigures, usualSteps } from '@/lib/core/edit/seam.ts';
import { median } from '@/lib/core/signal/statistics.ts';
import { decodeFeatures } from '@/lib/core/song/features.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';
import { barPlaces, editWords, lengthWords, withoutCut } from './handEdit.ts';
import { HandEdit } from './handEditForm.tsx';
import { HearEdit } from './hearEdit.tsx';
import { MoveJoin } from './moveJoin.tsx';
import { SeamFacts } from './seamFacts.tsx';
import { type SongChange, useSongChange } from './useSongChange.tsx';

/** The edit as it is: in a sentence, its joins with their figures, to be heard, and to be changed by hand. */
export function PresentEdit() {
  const plan = usePlan();
  const change = useSongChange();
  const { recording, grid } = plan;
  if (!recording) return null;
  const edit = plan.edit ?? wholeSong;
  const places = grid ? barPlaces(grid, plan.sections) : [];
  const beat = grid ? median(grid.beats.slice(1).map((t, i) => t - grid.beats[i]!)) : 0.5;
  const whole = edit.start === 0 && edit.cuts.length === 0 && edit.end.kind === 'own';
  return (
    <section aria-labelledby="present">
      <h2 id="present" className="text-2xl">
        The edit as it is
      </h2>
      <p className="mt-2 max-w-3xl font-serif text-xl leading-snug">
        {editWords(edit, recording.duration, places, beat)}
      </p>
      <p className="mt-1 text-soft">
        {lengthWords(edit, recording.duration, plan.heard?.lastSound ?? recording.duration)} The bar at the
        foot of the page plays it so.
      </p>
      <Joins change={change} beat={beat} />
      <div className="mt-3 flex flex-wrap gap-2">
        <HearEdit edit={edit} />
        {change.may && !whole ? (
          <Button look="quiet" className="max-sm:-ml-4" onClick={() => change.setEdit(wholeSong)}>
            Back to the whole song
          </Button>
        ) : null}
      </div>
      {change.words}
      {change.may && grid ? <HandEdit places={places} change={change} /> : null}
    </section>
  );
}

const UNCLEAR = 'The sounds about the join do not agree on its beat. Trust your ears: hear the join.';

/** Each join with what is known of it; the beat error only where the samples were measured. */
function Joins({ change, beat }: { change: SongChange; beat: number }) {
  const plan = usePlan();
  const desk = useAudio();
  const stage = useStage();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const { recording, grid, features } = plan;
  const edit = plan.edit ?? wholeSong;
  const known = useMemo(() => {
    if (!grid || !features) return null;
    const table = decodeFeatures(features);
    return { table, usual: usualSteps(table, grid) };
  }, [grid, features]);
  if (!recording || !grid || !features || !known || edit.cuts.length === 0) return null;
  const { table, usual } = known;
  const measure = async () => {
    setBusy(true);
    setProblem(null);
    const done = await desk.measure({ recording: recording.id }, edit, grid, features);
    setBusy(false);
    if (done.ok) {
      change.setEdit(done);
      if (done.value.cuts.every((cut) => cut.beatErrorMs === undefined)) setProblem(UNCLEAR);
    } else if (done.problem.code !== 'stopped') setProblem(done.problem.sentence);
  };
  // A join keeps its place in the list, and the finger its button, while it is moved.
  const joins = edit.cuts.map((cut, i) => ({ cut, i, key: `join ${i}` }));
  const unmeasured = edit.cuts.some((cut) => cut.beatErrorMs === undefined);
  return (
    <div className="mt-2">
      <ul className="space-y-1">
        {joins.map(({ cut, i, key }) => (
          <li key={key} className="flex flex-wrap items-center gap-x-4">
            {edit.cuts.length > 1 ? <span className="font-semibold">join {i + 1}</span> : null}
            <SeamFacts
              seam={{
                ...seamFigures(table, grid, usual, cut.from, cut.to),
                beatErrorMs: cut.beatErrorMs ?? null,
              }}
              interval={beat}
            />
            {change.may ? (
              <Button
                look="quiet"
                className="max-sm:-ml-4"
                onClick={() => change.setEdit(withoutCut(edit, i))}
              >
                Put this part back<span className="sr-only">, join {i + 1}</span>
              </Button>
            ) : null}
            {change.may ? (
              <div className="w-full">
                <MoveJoin index={i} change={change} />
              </div>
            ) : null}
          </li>
        ))}
      </ul>
      {busy ? (
        <Progress
          what={`${stage?.words ?? 'Reading the song'}…`}
          share={stage?.share ?? undefined}
          onCancel={() => desk.stop()}
        />
      ) : unmeasured && change.may ? (
        <Button onClick={measure}>Measure the join</Button>
      ) : null}
      {problem ? <Notice>{problem}</Notice> : null}
    </div>
  );
}
