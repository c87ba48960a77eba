'use client';

import Link from 'next/link';
import { useEffect, useMemo } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { danceStripOf } from '@/lib/core/handover/danceStrip.ts';
import { stretchAt } from '@/lib/core/handover/stretch.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { player } from '../_practice/player.ts';
import { useMusic } from '../_practice/useMusic.ts';
import { buttonClass } from '../_ui/button.tsx';
import { DanceStrip } from '../_ui/danceStrip.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { whenIdle } from '../_ui/whenIdle.ts';
import { usePractise } from './usePractise.ts';
import { dayOfParty, home } from './words.ts';

/** One big button: it leads to practice, and the music begins. */
export function PractiseFirst({ me }: { me: Me }) {
  const { board, score, today } = useBoard('board', 'score', 'today');
  const { plan } = board;
  return (
    <section aria-label={home.practise}>
      {plan.recording && score ? (
        <Ready me={me} score={score} />
      ) : (
        <>
          <Link
            href={boardAddress(me.board, 'song', me.role)}
            prefetch={false}
            className={buttonClass('main', 'min-h-16! px-8! text-xl!')}
          >
            {home.noSong}
          </Link>
          <p className="mt-2 max-w-prose">{home.noSongHint}</p>
        </>
      )}
      <p className="mt-3 text-soft">{dayOfParty(today, plan.date)}</p>
    </section>
  );
}

function Ready({ me, score }: { me: Me; score: FloorScore }) {
  const { board } = useBoard('board');
  const practise = usePractise(me);
  useMusic();
  // By the time somebody presses it is there; not for whoever asks their device to spare data.
  useEffect(() => whenIdle(() => savesData() || player.prepare()), []);
  const strip = useMemo(() => danceStripOf(board.plan, score), [board.plan, score]);
  return (
    <>
      <button
        type="button"
        onClick={() => practise.all()}
        className="flex min-h-24 w-full items-center gap-5 rounded bg-night px-5 py-4 text-left text-night-ink hover:bg-ink hover:text-paper"
      >
        <svg viewBox="0 0 24 24" className="size-14 shrink-0 fill-current" aria-hidden="true">
          <path d="M8 5v14l11-7z" />
        </svg>
        <span className="min-w-0">
          <span className="block font-serif text-4xl leading-tight">{home.practise}</span>
          <span className="block text-night-soft">{home.practiseHint(score.musicLength)}</span>
        </span>
      </button>
      {strip ? (
        <div className="mt-3">
          <DanceStrip
            strip={strip}
            size="small"
            onGo={(at) => {
              const phrase = stretchAt(score, at, 'phrase');
              if (phrase) practise.from(phrase.from);
            }}
          />
        </div>
      ) : null}
    </>
  );
}

const savesData = (): boolean =>
  (navigator as { connection?: { saveData?: boolean } }).connection?.saveData === true;
