'use client';

import Link from 'next/link';
import { answerState } from '@/lib/core/areas/answerState.ts';
import { entryFacts } from '@/lib/core/areas/entry.ts';
import { solveEnding } from '@/lib/core/dance/ending.ts';
import { type NightCard, nightCard } from '@/lib/core/handover/night.ts';
import { versionNumber } from '@/lib/core/handover/version.ts';
import { clock } from '@/lib/core/units.ts';
import type { Me } from '../_client/boardClient.ts';
import { useBoard } from '../_client/room.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { Fermata } from './fermata.tsx';
import { useKeptOffline } from './keepOffline.ts';

/** One dark phone screen for the night: what to listen for, and what to do then. Opens without a network once it is kept. */
export function NightScreen({ me }: { me: Me }) {
  const { board, closed } = useBoard();
  const kept = useKeptOffline(closed !== null);
  const card = nightCard(board);
  return (
    <main className="min-h-dvh bg-night text-night-ink">
      <div className="mx-auto flex min-h-dvh max-w-lg flex-col px-5 py-5">
        {closed === null ? null : (
          <p role="alert" className="mb-4 border-l-[3px] border-night-wine pl-3 text-night-wine">
            {closed}
          </p>
        )}
        {card === null ? <NothingYet /> : <Card card={card} kept={kept} />}
        <p className="no-print mt-auto pt-6">
          <Link
            prefetch={false}
            href={boardAddress(me.board, 'sheet', me.role)}
            className="inline-flex min-h-11 items-center text-night-soft"
          >
            Back to the board
          </Link>
        </p>
      </div>
    </main>
  );
}

function NothingYet() {
  return (
    <>
      <h1 className="text-3xl">The night card</h1>
      <p className="mt-3 text-lg text-night-soft">
        As soon as the song’s counts are known, this one screen says what to listen for on the night.
      </p>
    </>
  );
}

function Card({ card, kept }: { card: NightCard; kept: ReturnType<typeof useKeptOffline> }) {
  const { board, score } = useBoard();
  const { startsAt } = entryFacts(board);
  const solved = score ? solveEnding(board.plan, score) : null;
  const said = answerState(board).kind;
  const agreed = said === 'yes' || said === 'accepted' || said === 'not needed';
  return (
    <>
      <header>
        <h1 className="text-3xl leading-tight break-words">{card.title}</h1>
        <p className="mt-1 text-night-soft">
          {clock(card.musicLength)}, version {versionNumber(board)}
          {startsAt ? `. You are announced at ${startsAt.slice(11, 16)}` : ''}.{' '}
          {kept === 'kept'
            ? 'Saved on this phone.'
            : kept === 'keeping'
              ? ''
              : 'Needs a network: not saved here.'}
        </p>
        {agreed ? null : <p className="mt-1 text-night-wine">The DJ has not said yes to this version.</p>}
      </header>
      <ol className="mt-4 border-t border-night-rule">
        {card.rows.map((row) => (
          <li
            key={`${row.floor}/${row.does}`}
            className="grid grid-cols-[3.6rem_1fr] items-baseline border-b border-night-rule pt-1.5 pb-2"
          >
            <span className="text-night-soft">{clock(row.floor)}</span>
            <span className="flex min-w-0 flex-wrap items-baseline gap-x-3">
              {row.word === `at ${clock(row.floor)}` ? null : (
                <span
                  className={`text-2xl leading-tight break-words ${row.isSung ? 'sung' : 'font-serif text-night-soft'} ${row.ending ? 'text-[#dcbb69]' : ''}`}
                >
                  {row.word}
                </span>
              )}
              <span className="leading-snug break-words">{row.does}</span>
            </span>
          </li>
        ))}
        {solved?.ok ? (
          <li className="grid grid-cols-[3.6rem_1fr] items-baseline border-b border-night-rule pt-1.5 pb-2">
            <span className="text-night-soft">{clock(solved.value.landing.floor)}</span>
            <span className="text-[#dcbb69]">
              <Fermata /> closing pose, kept {solved.value.kept.seconds} s
              {board.plan.ending?.facing ? `, facing ${board.plan.ending.facing}` : ''}
            </span>
          </li>
        ) : null}
      </ol>
      {card.rows.length === 0 ? (
        <p className="mt-4 text-night-soft">No moves are placed yet: the basic step carries you through.</p>
      ) : null}
      <div className="mt-4 space-y-3 text-night-soft">
        <p className="text-night-ink">{card.lost}</p>
        {card.planB ? <p>{card.planB}</p> : null}
        <p className="text-sm">{card.caution}</p>
      </div>
    </>
  );
}
