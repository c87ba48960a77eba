'use client';

import Link from 'next/link';
import type { ReactNode } from 'react';
import { floorTime } from '@/lib/core/units.ts';
import type { ScreenName } from '../_client/boardPage.tsx';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { type Following, momentAt } from './followed.ts';
import { FullScreen } from './fullScreen.tsx';
import { NowNext } from './nowNext.tsx';
import { usePlayer } from './player.ts';
import { useAlone } from './useAlone.ts';
import { useAwake } from './useAwake.ts';
import { firstHeard, missing, words } from './words.ts';

/** What is danced now and what comes next; on its own it fills the screen, and on a phone that is turned it does by itself. */
export function Follow({ follow }: { follow: Following }) {
  const { at, playing, wait, loop } = usePlayer();
  const moment = momentAt(follow, at ?? floorTime(0), loop);
  const [alone, setAlone] = useAlone(playing || wait > 0);
  useAwake(playing || wait > 0);
  const begun = at !== null || playing || wait > 0;
  return (
    <>
      <section aria-label={words.region} className="rounded bg-night p-4 text-night-ink md:p-6">
        <div className="flex flex-wrap items-center justify-between gap-3">
          <p className="text-lg text-night-soft">{begun ? moment.section : words.beforeMusic}</p>
          <Button look="night" onClick={() => setAlone(true)}>
            {words.fill}
          </Button>
        </div>
        {begun ? (
          // It ends above the bar at the window's foot.
          <div className="h-[clamp(13rem,min(58dvh,100dvh-25.5rem),34rem)] xl:h-[clamp(13rem,min(58dvh,100dvh-20rem),34rem)]">
            <NowNext moment={moment} follow={follow} lead={wait > 0 ? String(wait) : null} />
          </div>
        ) : (
          <Before follow={follow} />
        )}
        <Missing follow={follow} />
        <p role="status" className="sr-only">
          {moment.call ? `${words.next}: ${moment.call.name}` : ''}
        </p>
      </section>
      {alone ? (
        <FullScreen moment={moment} follow={follow} begun={begun} onClose={() => setAlone(false)} />
      ) : null}
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
        {making ? words.oneMoment : problem ? words.noMusic : words.pressPlay}
      </p>
      <div className="mt-4 max-w-3xl space-y-1 text-xl md:text-2xl">
        {making ? <p className="text-night-soft">{words.making}</p> : null}
        {problem && !making ? (
          <p>
            {problem} <To screen="song">{words.toSong}</To>
          </p>
        ) : null}
        {cue ? (
          <p>
            First to listen for: <span className="sung">{cue.word}</span>, {firstHeard(cue.at)}.
          </p>
        ) : null}
        {call ? (
          <p>
            First to dance: <strong>{call.name}</strong>, {firstHeard(call.at)}
            {call.on ? (
              <>
                {' '}
                {words.on} <span className="sung">{call.on}</span>
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
  const lack = ([said, then]: readonly [string, string], screen: ScreenName): ReactNode => (
    <li key={said}>
      {said} <To screen={screen}>{then}</To>
    </li>
  );
  const lacks = [
    follow.score.counts.length === 0 ? lack(missing.counts, 'song') : null,
    follow.cues.length === 0 ? lack(missing.cues, 'sheet') : null,
    follow.danced.every(({ kind }) => kind !== 'move') ? lack(missing.moves, 'sheet') : null,
  ].filter((one) => one !== null);
  if (lacks.length === 0) return null;
  return <ul className="mt-5 space-y-1 border-t border-night-rule pt-3 text-night-soft">{lacks}</ul>;
}
