'use client';

import Link from 'next/link';
import { type ReactNode, useState } from 'react';
import { clock, floorTime } from '@/lib/core/units.ts';
import type { ScreenName } from '../_client/boardPage.tsx';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { Count } from './count.tsx';
import { type Following, type Moment, momentAt } from './followed.ts';
import { FullScreen } from './fullScreen.tsx';
import { usePlayer } from './player.ts';
import { useAwake } from './useAwake.ts';

/** What is heard, counted and danced now, and what comes next; on its own it fills the screen. */
export function Follow({ follow }: { follow: Following }) {
  const { at, playing, wait } = usePlayer();
  const moment = momentAt(follow, at ?? floorTime(0));
  const [alone, setAlone] = useState(false);
  useAwake(playing || wait > 0);
  const begun = at !== null || playing;
  return (
    <>
      <section aria-label="Follow the music" className="rounded bg-night p-4 text-night-ink md:p-8">
        <div className="flex flex-wrap items-center justify-between gap-3">
          <p className="text-lg text-night-soft">
            {begun ? moment.section || 'before the first step' : 'before the music'}
          </p>
          <Button look="night" onClick={() => setAlone(true)}>
            Fill the screen
          </Button>
        </div>
        {begun ? <Now moment={moment} follow={follow} /> : <Before follow={follow} />}
        <Missing follow={follow} />
        <p role="status" className="sr-only">
          {moment.call ? `Next: ${moment.call.name}` : ''}
        </p>
      </section>
      {alone ? <FullScreen moment={moment} begun={begun} onClose={() => setAlone(false)} /> : null}
    </>
  );
}

/** Before anything was played: what to do, and what will be heard and danced first. */
function Before({ follow }: { follow: Following }) {
  const { problem, making } = usePlayer();
  const [cue] = follow.cues;
  const [call] = follow.calls;
  return (
    <div className="mt-3">
      <p className="font-serif text-[clamp(2.75rem,11vw,8rem)] leading-none">
        {making ? 'One moment' : problem ? 'No music yet' : 'Press play'}
      </p>
      <div className="mt-4 max-w-3xl space-y-1 text-xl md:text-2xl">
        {making ? <p className="text-night-soft">The music is being made ready on this device.</p> : null}
        {problem && !making ? (
          <p>
            {problem} <To screen="song">Go to the Song page.</To>
          </p>
        ) : null}
        {cue ? (
          <p>
            First to listen for: <span className="sung">{cue.word}</span>, at {clock(cue.at)}.
          </p>
        ) : null}
        {call ? (
          <p>
            First to dance: <strong>{call.name}</strong>, at {clock(call.at)}
            {call.on ? (
              <>
                {' '}
                on <span className="sung">{call.on}</span>
              </>
            ) : null}
            .
          </p>
        ) : null}
      </div>
    </div>
  );
}

function To({ screen, children }: { screen: ScreenName; children: string }) {
  const { me } = useBoard('me');
  return (
    <Link prefetch={false} href={boardAddress(me.board, screen, me.role)} className="text-night-ink">
      {children}
    </Link>
  );
}

/** What the page cannot show because nobody has noted it yet, and where to. */
function Missing({ follow }: { follow: Following }) {
  const lacks: ReactNode[] = [
    follow.score.counts.length === 0 ? (
      <>
        The counts are not known yet, so the music plays uncounted.{' '}
        <To screen="song">Find them on the Song page.</To>
      </>
    ) : null,
    follow.cues.length === 0 ? (
      <>
        No words to listen for are noted yet. <To screen="sheet">Note them on the sheet.</To>
      </>
    ) : null,
    follow.calls.length === 0 ? (
      <>
        No moves are placed yet: dance the basic step. <To screen="sheet">Place some on the sheet.</To>
      </>
    ) : null,
  ].filter((lack) => lack !== null);
  if (lacks.length === 0) return null;
  return (
    <ul className="mt-5 space-y-1 border-t border-night-rule pt-3 text-night-soft">
      {lacks.map((lack, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: three fixed lines, in order
        <li key={i}>{lack}</li>
      ))}
    </ul>
  );
}

function Now({ moment, follow }: { moment: Moment; follow: Following }) {
  const heard = moment.now || moment.section || 'listen';
  return (
    <div>
      <div className="grid grid-cols-[minmax(0,1fr)_auto] items-end gap-x-6 pt-4 md:pt-8">
        <p
          dir="auto"
          className={`text-left leading-none break-words ${largeFor(heard)} ${moment.now ? 'sung' : 'font-serif text-night-soft'}`}
        >
          <span className="sr-only">Heard now: </span>
          {heard}
        </p>
        <p className="font-serif text-[clamp(5rem,19vw,12rem)] leading-[0.8]">
          <Count moment={moment} />
        </p>
      </div>
      <dl className="mt-6 grid gap-x-8 gap-y-4 border-t border-night-rule pt-4 md:grid-cols-2">
        <Ahead
          what={moment.call ? whenOf(moment) : 'next move'}
          words={moment.call?.name ?? (follow.calls.length > 0 ? 'that was all' : 'basic step')}
          className="font-semibold"
        />
        <Ahead
          what="next to listen for"
          words={moment.next?.word ?? (follow.cues.length > 0 ? 'the end' : 'nothing is noted')}
          className="sung"
        />
      </dl>
    </div>
  );
}

/** Letters of a short cue word, and of one that is half a sentence. */
const SHORT = 16;
const LONG = 40;

/** Long words are set smaller, so that what stands below does not jump off the screen with them. */
const largeFor = ({ length }: string): string =>
  length <= SHORT
    ? 'text-[clamp(2.75rem,11vw,8rem)]'
    : length <= LONG
      ? 'text-[clamp(2rem,6vw,4.5rem)]'
      : 'text-[clamp(1.5rem,4vw,3rem)]';
const aheadFor = ({ length }: string): string =>
  length <= LONG ? 'text-[clamp(2rem,6vw,4.25rem)]' : 'text-[clamp(1.5rem,3.5vw,2.25rem)]';

function Ahead({ what, words, className }: { what: string; words: string; className: string }) {
  return (
    <div className="min-w-0">
      <dt className="text-lg text-night-soft">{what}</dt>
      <dd dir="auto" className={`text-left leading-tight break-words ${aheadFor(words)} ${className}`}>
        {words}
      </dd>
    </div>
  );
}

const whenOf = ({ call, callWhen }: Moment): string => `${callWhen}${call?.on ? `, on “${call.on}”` : ''}`;
