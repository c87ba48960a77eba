'use client';

import { wholeSong } from '@/lib/core/edit/edit.ts';
import { clock, type RecordTime } from '@/lib/core/units.ts';
import { useStage } from '../_client/audio.ts';
import { useBoard, usePlan } from '../_client/room.tsx';
import { BarButton, PlayPause, useSpace } from '../_practice/barParts.tsx';
import { player } from '../_practice/player.ts';
import { useMediaSession } from '../_practice/useMediaSession.ts';
import { withEdgeAt } from './edges.ts';
import { withCut } from './handEdit.ts';
import { recordSound } from './recordSound.ts';
import { nearestLine } from './seamMoves.ts';
import { barTimes } from './sectionSteps.ts';
import { SOURCES, useSongPlace, useSongSound } from './songSound.tsx';
import type { SongChange } from './useSongChange.tsx';
import { bar as words } from './words.ts';

/** An edit in hand. */
export interface InHand {
  change: SongChange;
  /** Where somebody has said that the music stops, until they say where it goes on. */
  stopsAt: RecordTime | null;
  stopAt(at: RecordTime | null): void;
}

/** The one player of the song page, at its foot: it never grows or shrinks, so that nothing above it moves. */
export function SongBar(inHand: InHand) {
  const { board, score } = useBoard('board', 'score');
  const { plan } = board;
  const { grid } = plan;
  const sound = useSongSound();
  const { clock: time, playing } = useSongPlace();
  const { source, excerpt, making, clicked } = sound;
  useSpace(sound.toggle);
  useMediaSession(
    source === 'recording' ? recordSound : player,
    source === 'recording' ? null : score,
    plan.recordingWords?.title || plan.title || 'First dance',
    plan.recordingWords?.artist ?? '',
  );
  return (
    <section aria-label={words.name} className="bg-night pb-[env(safe-area-inset-bottom)] text-night-ink">
      <div className="mx-auto flex max-w-[120rem] flex-wrap items-center gap-x-2 gap-y-1 px-4 py-2 md:gap-x-5 md:px-10 short:gap-y-0 short:py-0.5">
        <PlayPause
          sounding={making || playing || excerpt !== null}
          name={making || excerpt ? words.stop : playing ? words.pause : words.play}
          onClick={making ? sound.stop : sound.toggle}
        />
        <p className="min-w-0 flex-[1_1_3.5rem] font-serif text-xl leading-tight md:w-52 md:flex-none md:text-2xl">
          <Said />
          <span className="sr-only">{words.time}</span>
          {clock(time, 1)}
        </p>
        <fieldset className="flex">
          <legend className="sr-only">{words.which}</legend>
          {SOURCES.map((one) => (
            <BarButton key={one} pressed={source === one} onClick={() => sound.choose(one)}>
              {words.sources[one]}
            </BarButton>
          ))}
        </fieldset>
        {grid ? (
          <BarButton
            pressed={clicked}
            className={`max-lg:hidden ${source === 'recording' ? '' : 'invisible'}`}
            onClick={() => sound.setClicked(!clicked)}
          >
            {words.clicked}
          </BarButton>
        ) : null}
        {inHand.change.may && grid ? <StopAndGo {...inHand} /> : null}
      </div>
    </section>
  );
}

/** What is heard, how far it is made ready, or why it is not. */
function Said() {
  const { source, excerpt, making, problem } = useSongSound();
  const stage = useStage();
  const share = making && stage?.share != null ? ` ${Math.round(100 * stage.share)} %` : '';
  return (
    <span
      role="status"
      title={making ? (stage?.words ?? undefined) : undefined}
      className={`block font-sans text-sm leading-tight ${problem ? 'text-night-wine' : 'truncate text-night-soft'}`}
    >
      {problem ?? (making ? `${words.ready}…${share}` : (excerpt?.words ?? words.sources[source]))}
    </span>
  );
}

/** An edit made while it plays: where the music stops, and where it goes on, or begins, or fades. */
function StopAndGo({ change, stopsAt, stopAt }: InHand) {
  const plan = usePlan();
  const sound = useSongSound();
  const { grid, recording } = plan;
  if (!grid || !recording) return null;
  const edit = plan.edit ?? wholeSong;
  const { duration } = recording;
  const lines = barTimes(grid);
  /** Nobody presses to the moment: the bar line that is nearest is meant. */
  const here = (): RecordTime => lines[nearestLine(lines, sound.now())] ?? sound.now();
  const done = () => stopAt(null);
  return (
    <div className="flex min-h-11 gap-x-1 max-md:basis-full max-md:justify-between md:ml-auto">
      <BarButton
        onClick={() => {
          if (stopsAt === null) return stopAt(here());
          change.setEdit(withCut(edit, stopsAt, here(), duration));
          done();
        }}
      >
        {stopsAt === null ? words.stopHere : words.goOnHere}
      </BarButton>
      {stopsAt === null ? (
        <BarButton onClick={() => change.setEdit(withEdgeAt(edit, { kind: 'start' }, here(), duration))}>
          {words.beginHere}
        </BarButton>
      ) : (
        <>
          <BarButton
            onClick={() => {
              change.setEdit(withEdgeAt(edit, { kind: 'end' }, stopsAt, duration));
              done();
            }}
          >
            {words.fadeThere}
          </BarButton>
          <BarButton onClick={done}>{words.forget}</BarButton>
        </>
      )}
    </div>
  );
}
