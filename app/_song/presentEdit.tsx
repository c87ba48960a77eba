'use client';

import { useState } from 'react';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { useAudio, useStage } from '../_client/audio.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';
import { ExactEdit } from './exactEdit.tsx';
import { barPlaces, editWords, lengthWords, usualBeat } from './handEdit.ts';
import { SeamFacts } from './seamFacts.tsx';
import { useHearings, useSongSound } from './songSound.tsx';
import { useSeams } from './useSeams.ts';
import type { SongChange } from './useSongChange.tsx';
import { length as words } from './words.ts';

/** The edit as it is: in a sentence, its joins with what is known of them, to be heard. */
export function PresentEdit({ change }: { change: SongChange }) {
  const plan = usePlan();
  const seams = useSeams();
  const { recording, grid } = plan;
  if (!recording) return null;
  const edit = plan.edit ?? wholeSong;
  const places = grid ? barPlaces(grid, plan.sections) : [];
  const beat = usualBeat(grid);
  // A join keeps its place in the list while it is moved.
  const joins = seams.map((seam, i) => ({ seam, name: seams.length > 1 ? words.join(i + 1) : '' }));
  return (
    <section aria-label={words.present}>
      <p className="max-w-4xl font-serif text-xl leading-snug">
        {editWords(edit, recording.duration, places, beat)}
      </p>
      <p className="text-soft">
        {lengthWords(edit, recording.duration, plan.heard?.lastSound ?? recording.duration)}
      </p>
      {joins.map(({ seam, name }) => (
        <div key={name} className="mt-1 flex flex-wrap items-baseline gap-x-4">
          {name ? <span className="font-semibold">{name}</span> : null}
          <SeamFacts seam={seam} interval={beat} />
        </div>
      ))}
      <div className="mt-2 flex flex-wrap items-center gap-2">
        <HearPresent />
        {change.may ? <Measure change={change} /> : null}
      </div>
      {change.may && grid ? <ExactEdit places={places} change={change} /> : null}
    </section>
  );
}

/** Each join and the fade of the present edit; the bar at the foot says that it is heard, and the button stays as it is. */
function HearPresent() {
  const edit = usePlan().edit ?? wholeSong;
  const { excerpt, hearExcerpt } = useSongSound();
  return useHearings(edit).map((hearing) => (
    <Button
      key={hearing.key}
      aria-pressed={excerpt?.of === PRESENT && excerpt.key === hearing.key}
      className="aria-pressed:bg-paper-2 aria-pressed:underline"
      onClick={() => hearExcerpt(edit, { ...hearing, of: PRESENT })}
    >
      {words.hear(hearing.words)}
    </Button>
  ));
}

const PRESENT = 'present';

/** Aligns joins that were made by hand to the sound, and measures their beat. */
function Measure({ change }: { change: SongChange }) {
  const plan = usePlan();
  const desk = useAudio();
  const stage = useStage();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const { recording, grid, features } = plan;
  const edit = plan.edit ?? wholeSong;
  if (!recording || !grid || !features) return null;
  const measure = async () => {
    setBusy(true);
    setProblem(null);
    const done = await desk.measure({ recording: recording.id }, edit, grid, features);
    setBusy(false);
    if (done.ok) {
      change.setEdit(done);
      if (done.value.cuts.every((cut) => cut.beatErrorMs === undefined)) setProblem(words.unclear);
    } else if (done.problem.code !== 'stopped') setProblem(done.problem.sentence);
  };
  const isUnmeasured = edit.cuts.some((cut) => cut.beatErrorMs === undefined);
  return (
    <>
      {busy ? (
        <Progress
          what={`${stage?.words ?? words.reading}…`}
          share={stage?.share ?? undefined}
          onCancel={() => desk.stop()}
        />
      ) : isUnmeasured ? (
        <Button onClick={measure}>{words.measure}</Button>
      ) : null}
      {problem ? <Notice>{problem}</Notice> : null}
    </>
  );
}
