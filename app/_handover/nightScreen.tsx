'use client';

import Link from 'next/link';
import type { ReactNode } from 'react';
import { type AnswerKind, answerState } from '@/lib/core/agreed/answerState.ts';
import { announcedWords, danceTime } from '@/lib/core/agreed/entry.ts';
import { versionNumber, versionWords } from '@/lib/core/agreed/version.ts';
import { danceStripOf } from '@/lib/core/handover/danceStrip.ts';
import { type NightCard, nightCard } from '@/lib/core/handover/night.ts';
import { clock } from '@/lib/core/units.ts';
import type { Me } from '../_client/boardState.ts';
import { useKept } from '../_client/keepPages.ts';
import { useBoard } from '../_client/room.tsx';
import { useSilence } from '../_client/silence.ts';
import { clearOfFoot } from '../_ui/clearOf.ts';
import { DanceStrip } from '../_ui/danceStrip.tsx';
import { LostNotices } from '../_ui/lostNotices.tsx';
import { Refused } from '../_ui/refused.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { useLasting } from '../_ui/useLasting.ts';
import { Fermata } from './fermata.tsx';
import { nightPage as words } from './words.ts';

/** Letters of a title that takes more than two lines in large type. */
const LONG = 40;

/** One dark phone screen for the night: what to listen for, and what to do then. Opens without a network once it is kept. */
export function NightScreen({ me }: { me: Me }) {
  const { board, closed, refusal } = useBoard('board', 'closed', 'refusal');
  const card = nightCard(board);
  useSilence(true);
  const title = card?.title ?? 'The night card';
  return (
    <main className="min-h-dvh bg-night text-night-ink print:min-h-0">
      <div className="mx-auto flex min-h-dvh max-w-lg flex-col print:min-h-0 px-4 pt-2 pb-3 sm:px-6 sm:py-6">
        <Refused night />
        {closed === null || refusal?.sentence === closed ? null : (
          <p role="alert" className="mb-2 border-l-[3px] border-night-wine pl-3 text-night-wine">
            {closed}
          </p>
        )}
        <div className="flex items-start gap-3">
          <h1
            dir="auto"
            className={`min-w-0 flex-1 pt-1 text-left leading-tight break-words ${title.length > LONG ? 'text-lg' : 'text-2xl'} sm:text-3xl`}
          >
            {title}
          </h1>
          <Link
            prefetch={false}
            href={boardAddress(me.board, 'sheet', me.role)}
            className="no-print inline-flex min-h-11 shrink-0 items-center text-night-soft"
          >
            <span className="sr-only">Back to the </span>board
          </Link>
        </div>
        {card === null ? (
          <p className="mt-3 text-lg text-night-soft">
            As soon as there is a song and its beat is known, this one screen says what to listen for on the
            night.
          </p>
        ) : (
          <Card card={card} />
        )}
      </div>
      <div ref={clearOfFoot} className="no-print fixed inset-x-0 bottom-0 z-20">
        <LostNotices night />
      </div>
    </main>
  );
}

/** Rows beyond which they are set closer, so that all of it stays one screen. */
const MANY = 9;

/** Said where the DJ's yes is missing or not for all of it; empty where nothing is missing. */
const NOT_AGREED: Partial<Record<AnswerKind, string>> = {
  yes: '',
  accepted: '',
  'not needed': '',
  'yes to other facts': 'Something changed after the DJ’s yes.',
  'yes, copy does not fit': 'The DJ’s copy of the song does not fit yet.',
};

function Card({ card }: { card: NightCard }) {
  const { board } = useBoard('board');
  const notAgreed = NOT_AGREED[answerState(board).kind] ?? 'The DJ has not said yes to this version.';
  const size = card.rows.length >= MANY ? 'text-[1.2rem] sm:text-2xl' : 'text-[1.4rem] sm:text-3xl';
  return (
    <>
      <Facts music={card.musicLength} />
      <NightStrip />
      {notAgreed ? (
        <p className="text-[0.9rem] leading-snug text-night-wine sm:text-base">{notAgreed}</p>
      ) : null}
      {card.poseLost ? (
        <p className="text-[0.9rem] leading-snug text-night-wine sm:text-base">{card.poseLost}</p>
      ) : null}
      <ol className="mt-2 flex flex-1 flex-col border-t border-night-rule">
        {card.rows.map((row) => (
          <Row key={`${row.floor}/${row.does}`} at={clock(row.floor)}>
            {row.word === '' ? null : (
              <span
                dir="auto"
                className={`leading-tight wrap-anywhere ${size} ${row.isSung ? 'sung' : 'font-serif text-night-soft'} ${row.ending ? GOLD : ''}`}
              >
                {row.word}
              </span>
            )}
            <span className={`leading-snug wrap-anywhere ${row.landing ? GOLD : ''}`}>
              {row.landing ? <Fermata /> : null} {row.does}
            </span>
          </Row>
        ))}
      </ol>
      {card.rows.length === 0 ? (
        <p className="mt-3 text-night-soft">No moves are placed yet: the basic step carries you through.</p>
      ) : null}
      <div className="mt-1.5 space-y-1 text-[0.875rem] leading-snug text-night-soft sm:text-base">
        <p className="text-night-ink">{card.lost}</p>
        {card.planB ? <p>{card.planB}</p> : null}
        <p className="leading-tight">{card.caution}</p>
      </div>
    </>
  );
}

/** The closing pose's ink on night. */
const GOLD = 'text-[#dcbb69] print:text-gold';

function Row({ at, children }: { at: string; children: ReactNode }) {
  return (
    <li className="grid flex-1 grid-cols-[2.9rem_1fr] content-center items-baseline border-b border-night-rule py-[0.15rem] text-[0.95rem] sm:grid-cols-[3.6rem_1fr] sm:py-2 sm:text-lg">
      <span className="text-night-soft">{at}</span>
      <span className="flex min-w-0 flex-wrap items-baseline gap-x-2.5">{children}</span>
    </li>
  );
}

/** The whole dance at one glance, in the night's colours. */
function NightStrip() {
  const { board, score } = useBoard('board', 'score');
  const strip = danceStripOf(board.plan, score ?? undefined);
  return strip ? <DanceStrip strip={strip} size="small" className="night-strip mt-1" /> : null;
}

/**
 * Which version it is, when they are announced, and whether this device will show it without a network: a line of its own that is
 * there from the beginning, so that nothing moves when it is known.
 */
function Facts({ music }: { music: number }) {
  const { board, closed, saving } = useBoard('board', 'closed', 'saving');
  const kept = useKept();
  const alone = useLasting(saving === 'offline' && closed === null);
  const announced = announcedWords(danceTime(board));
  const isKept = { keeping: words.keeping, kept: words.kept, 'not kept': words.notKept }[kept];
  return (
    <div className="text-[0.9rem] leading-snug text-night-soft sm:text-base">
      <p>
        {words.music(music, versionWords(versionNumber(board)))}.
        {announced ? ` ${words.announced(announced)}` : ''}
      </p>
      <p role="status" className="no-print min-h-[1.375em]">
        {alone ? words.alone : closed === null ? isKept : ''}
      </p>
    </div>
  );
}
