'use client';

import { useEffect, useMemo, useRef, useState } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { clock, floorTime } from '@/lib/core/units.ts';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { following, type Moment, momentAt } from './followed.ts';
import { player, usePlayer } from './player.ts';
import { useAwake } from './useAwake.ts';

/** What is heard, counted and danced now, and what comes next; on its own it fills the screen. */
export function Follow({ score }: { score: FloorScore }) {
  const { board } = useBoard();
  const { at, playing } = usePlayer();
  const follow = useMemo(() => following(board.plan, score), [board.plan, score]);
  const moment = momentAt(follow, at ?? floorTime(0));
  const [alone, setAlone] = useState(false);
  useAwake(playing);
  return (
    <>
      <section aria-label="Follow the music" className="rounded bg-night p-5 text-night-ink md:p-8">
        <Button look="night" className="float-right ml-4" onClick={() => setAlone(true)}>
          Fill the screen
        </Button>
        <Now moment={moment} large={false} />
        <p role="status" className="sr-only">
          {moment.call ? `Next: ${moment.call.name}` : ''}
        </p>
      </section>
      {alone ? <FullScreen moment={moment} onClose={() => setAlone(false)} /> : null}
    </>
  );
}

/** Nothing but the music and what to do: everything else is out of the way, of eyes and keys. Escape leads back. */
function FullScreen({ moment, onClose }: { moment: Moment; onClose: () => void }) {
  const { at, playing, wait } = usePlayer();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const sounding = playing || wait > 0;
  return (
    <dialog
      ref={dialog}
      onClose={onClose}
      aria-label="Follow the music"
      className="m-0 h-dvh max-h-none w-full max-w-none bg-night p-5 text-night-ink md:p-8"
    >
      <div className="flex min-h-full flex-col justify-between gap-6">
        <div className="flex flex-wrap items-center gap-x-5 gap-y-2">
          <Button look="night-main" autoFocus className="min-w-28" onClick={() => player.toggle()}>
            {sounding ? 'Pause' : 'Play'}
          </Button>
          <span className="flex-1 font-serif text-3xl">{wait > 0 ? `in ${wait} s` : clock(at ?? 0)}</span>
          <Button look="night" onClick={() => dialog.current?.close()}>
            Back to the page
          </Button>
        </div>
        <Now moment={moment} large />
        <span />
      </div>
    </dialog>
  );
}

function Now({ moment, large }: { moment: Moment; large: boolean }) {
  const word = large ? 'text-[clamp(4rem,17vw,15rem)]' : 'text-[clamp(3.25rem,13vw,9rem)]';
  const count = large ? 'text-[clamp(6rem,22vw,18rem)]' : 'text-[clamp(4.5rem,18vw,12rem)]';
  const next = large ? 'text-[clamp(2.25rem,7vw,6rem)]' : 'text-[clamp(2rem,6vw,4.25rem)]';
  return (
    <div>
      <div className="clear-both grid items-end gap-x-8 gap-y-5 pt-3 md:grid-cols-[1fr_auto]">
        <div className="min-w-0">
          <p className="text-lg text-night-soft">{moment.section || 'before the music'}</p>
          <p className={`sung leading-none break-words ${word}`}>
            <span className="sr-only">Heard now: </span>
            {moment.now || '…'}
          </p>
        </div>
        <p className={`font-serif leading-none md:text-right ${count}`}>
          <span className="sr-only">Count </span>
          {moment.said || '–'}
        </p>
      </div>
      <dl className="mt-6 grid gap-x-8 gap-y-4 border-t border-night-rule pt-5 md:grid-cols-2">
        <div className="min-w-0">
          <dt className="text-lg text-night-soft">next to listen for</dt>
          <dd className={`sung leading-tight break-words ${next}`}>{moment.next?.word ?? 'nothing more'}</dd>
        </div>
        <div className="min-w-0">
          <dt className="text-lg text-night-soft">{moment.call ? whenOf(moment) : 'next move'}</dt>
          <dd className={`leading-tight font-semibold break-words ${next}`}>{moment.call?.name ?? 'none'}</dd>
        </div>
      </dl>
    </div>
  );
}

const whenOf = ({ call, callWhen }: Moment): string => `${callWhen}${call?.on ? `, on “${call.on}”` : ''}`;
