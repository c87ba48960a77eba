'use client';

import { useDeferredValue, useId, useRef, useState } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { type Scope, stretchAt } from '@/lib/core/handover/stretch.ts';
import { clock, type FloorTime, floorTime } from '@/lib/core/units.ts';
import { useStage } from '../_client/audio.ts';
import { useBoard } from '../_client/room.tsx';
import { BarButton, PlayPause, useSpace } from './barParts.tsx';
import { following, momentAt } from './followed.ts';
import { goRound, useRounds } from './goRound.ts';
import { type Calls, player, SPEEDS, usePlayer } from './player.ts';
import { callBy, useCalls, useWaysToCall } from './useCalls.ts';
import { stepPhrase, useMediaSession } from './useMediaSession.ts';
import { useMusic } from './useMusic.ts';
import { again as againWords, callsNow } from './words.ts';

/** Seconds to put the phone down and take hold. */
const GET_INTO_PLACE = 10;

/** The music at the foot of a page: play, time, what comes next, the phrase again, slower. */
export function PlayerBar() {
  // The sheet is drawn first: what comes next in the music may follow.
  const { board, score } = useDeferredValue(useBoard('board', 'score'));
  const music = useMusic();
  const stage = useStage();
  const { at, playing, loop, speed, wait, calls, problem, making } = usePlayer();
  const follow = score ? following(board.plan, score) : null;
  const here = at ?? floorTime(0);
  const moment = follow ? momentAt(follow, here, loop) : null;
  const coming = moment?.coming ?? null;
  const { plan } = board;
  useCalls(follow, playing ? at : null);
  const ways = useWaysToCall();
  useMediaSession(
    player,
    score,
    plan.recordingWords?.title || plan.title || 'First dance',
    plan.recordingWords?.artist ?? '',
  );
  const [more, setMore] = useState(false);
  const options = useId();
  const round = useRef<HTMLButtonElement>(null);
  useSpace(() => player.toggle());
  useRounds(score);
  if (!music.possible) return null;
  const again = (of: Scope) => {
    const stretch = score ? stretchAt(score, here, of) : null;
    if (score && stretch) goRound(score, stretch);
  };
  return (
    <section aria-label="Music" className="bg-night pb-[env(safe-area-inset-bottom)] text-night-ink">
      <div className="mx-auto flex max-w-[120rem] flex-wrap items-center gap-x-2 gap-y-1 px-4 py-2 max-[22rem]:gap-x-1 max-[22rem]:px-2 sm:gap-x-5 short:gap-y-0 short:py-0.5 md:px-10">
        <div className="flex items-center">
          <PhraseButton name="a phrase back" score={score} by={-1} />
          <PlayButton busy={making} />
          <PhraseButton name="a phrase on" score={score} by={1} />
        </div>
        <p className="flex-1 font-serif text-2xl leading-tight md:flex-none">
          <span className="block font-sans text-sm leading-tight text-night-soft short:hidden">
            as played
          </span>
          <span className="sr-only">Time in the music: </span>
          {wait > 0 ? `in ${wait} s` : barClock(here)}
        </p>
        <p
          className={`order-last min-w-0 basis-full md:order-none md:flex-1 md:basis-40 short:order-none short:flex-1 short:basis-40 ${problem ? '' : 'truncate'}`}
        >
          {making ? (
            <Making
              words={stage?.words ?? 'Preparing the music'}
              share={stage?.share ?? null}
              onStop={music.stop}
            />
          ) : problem ? (
            <span role="alert" className="text-night-wine">
              {problem}
            </span>
          ) : coming ? (
            <>
              <span className="sung text-lg">{coming.name}</span>{' '}
              <span className="sung text-night-soft">
                {coming.when}
                {coming.on ? `, on “${coming.on}”` : ''}
              </span>
            </>
          ) : null}
        </p>
        <BarButton className="xl:hidden" expanded={more} controls={options} onClick={() => setMore(!more)}>
          {more ? 'less' : 'more'}
        </BarButton>
        <div
          id={options}
          className={`${more ? 'flex' : 'hidden xl:flex'} min-w-0 flex-wrap items-center gap-x-1 short:flex-nowrap short:overflow-x-auto short:whitespace-nowrap short:p-1`}
        >
          <BarButton
            ref={round}
            pressed={loop !== null}
            onClick={() => (loop ? player.setLoop(null) : again('phrase'))}
          >
            {loop ? againWords.on(loop) : againWords.phrase}
          </BarButton>
          {loop ? null : (
            <BarButton
              onClick={() => {
                again('section');
                // This one goes; the one that ends it has the focus.
                round.current?.focus();
              }}
            >
              {againWords.section}
            </BarButton>
          )}
          <Speed speed={speed} />
          <BarButton pressed={calls !== 'silent'} onClick={() => callBy(after(ways, calls))}>
            {callsNow[calls]}
          </BarButton>
          <BarButton onClick={() => player.playAfter(GET_INTO_PLACE)}>
            {GET_INTO_PLACE} s to get into place
          </BarButton>
        </div>
      </div>
    </section>
  );
}

/** The one that follows in the list, and the first after the last. */
const after = (ways: readonly Calls[], one: Calls): Calls => ways[(ways.indexOf(one) + 1) % ways.length]!;

/** `1:12.4`; while it is counted in, how long still. */
const barClock = (at: FloorTime): string => clock(at, 1);

function PlayButton({ busy }: { busy: boolean }) {
  const { playing, wait } = usePlayer();
  const sounding = playing || wait > 0;
  return (
    <PlayPause
      sounding={sounding}
      name={sounding ? 'Pause' : 'Play'}
      busy={busy}
      onClick={() => busy || player.toggle()}
    />
  );
}

/** To the start of the phrase before or after, playing or not. */
function PhraseButton({ name, score, by }: { name: string; score: FloorScore | null; by: -1 | 1 }) {
  if (!score || score.phrases.length === 0) return null;
  return (
    <button
      type="button"
      aria-label={name}
      onClick={() => stepPhrase(player, score, by)}
      className="grid h-14 w-11 shrink-0 place-items-center text-night-soft hover:text-night-ink short:h-11"
    >
      <svg viewBox="0 0 24 24" className="size-5 fill-none stroke-current stroke-2" aria-hidden="true">
        <path d={by < 0 ? 'M6 5v14M18 5l-8 7 8 7' : 'M18 5v14M6 5l8 7-8 7'} />
      </svg>
    </button>
  );
}

function Speed({ speed }: { speed: number }) {
  const percent = Math.round(speed * 100);
  return (
    <span className="flex items-center">
      <BarButton onClick={() => player.setSpeed(speed - SPEEDS.step)}>
        <span aria-hidden="true">−</span>
        <span className="sr-only">slower</span>
      </BarButton>
      <output aria-label="Speed" className="min-w-20 text-center text-night-soft">
        {percent} % speed
      </output>
      <BarButton onClick={() => player.setSpeed(speed + SPEEDS.step)}>
        <span aria-hidden="true">+</span>
        <span className="sr-only">faster</span>
      </BarButton>
    </span>
  );
}

function Making({ words, share, onStop }: { words: string; share: number | null; onStop: () => void }) {
  return (
    <span className="flex items-center gap-3">
      <span role="status">{words}…</span>
      <progress className="h-1.5 w-24" value={share ?? undefined} max={1} aria-label={words} />
      <BarButton onClick={onStop}>stop</BarButton>
    </span>
  );
}
