'use client';

import Link from 'next/link';
import { useEffect, useMemo } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { danceStripOf } from '@/lib/core/handover/danceStrip.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { DanceStrip } from '../_ui/danceStrip.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { Again } from './again.tsx';
import { Follow } from './follow.tsx';
import { following } from './followed.ts';
import { HelpOptions } from './helpOptions.tsx';
import { goTo, player, usePlayer } from './player.ts';
import { PlayerBar } from './playerBar.tsx';
import { RoundOptions } from './roundOptions.tsx';
import { noSong } from './words.ts';

/** Dancing to the music as edited: what is danced now and next, to be read from across a room. */
export function PracticeScreen({ me }: { me: Me }) {
  const { board, score } = useBoard('board', 'score');
  const { ready } = usePlayer();
  // Here the music is what people come for: it is made ready before anybody asks.
  useEffect(() => {
    if (!ready) player.prepare();
  }, [ready]);
  return (
    <BoardFrame bar={<PlayerBar />}>
      {board.plan.recording && score ? (
        <Practice plan={board.plan} score={score} />
      ) : (
        <p className="max-w-xl text-lg">
          {noSong[0]}{' '}
          <Link href={boardAddress(me.board, 'song', me.role)} prefetch={false}>
            {noSong[1]}
          </Link>
        </p>
      )}
    </BoardFrame>
  );
}

function Practice({ plan, score }: { plan: Plan; score: FloorScore }) {
  const follow = following(plan, score);
  return (
    <>
      <Glance plan={plan} score={score} />
      <Follow follow={follow} />
      <div className="mt-8 grid gap-8 md:grid-cols-2 lg:grid-cols-[2fr_1fr]">
        <Again follow={follow} />
        <div className="space-y-8">
          <RoundOptions score={score} />
          <HelpOptions />
        </div>
      </div>
    </>
  );
}

/** The whole dance, small, and where the music is: pressed, it goes on from there. */
function Glance({ plan, score }: { plan: Plan; score: FloorScore }) {
  const { at } = usePlayer();
  const strip = useMemo(() => danceStripOf(plan, score), [plan, score]);
  return strip ? <DanceStrip strip={strip} size="small" at={at} onGo={goTo} className="mb-3" /> : null;
}
