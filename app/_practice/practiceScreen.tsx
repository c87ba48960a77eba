'use client';

import Link from 'next/link';
import { useEffect, useId } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { clock } from '@/lib/core/units.ts';
import type { Me } from '../_client/boardState.ts';
import { useKept } from '../_client/keepPages.ts';
import { useBoard } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { Follow } from './follow.tsx';
import { type Following, following, stretchAt } from './followed.ts';
import { OwnStretch } from './ownStretch.tsx';
import { type Calls, player, usePlayer } from './player.ts';
import { TapDelay } from './tapDelay.tsx';
import { callBy, useWaysToCall } from './useCalls.ts';

/** Dancing to the music as edited: what to listen for, the count, the next move, to be read from across a room. */
export function PracticeScreen({ me }: { me: Me }) {
  const { board, score } = useBoard('board', 'score');
  const { ready } = usePlayer();
  // Here the music is what people come for: it is made ready before anybody asks.
  useEffect(() => {
    if (!ready) player.prepare();
  }, [ready]);
  return (
    <BoardFrame player>
      {board.plan.recording && score ? (
        <Practice plan={board.plan} score={score} />
      ) : (
        <p className="max-w-xl text-lg">
          There is no song to dance to yet.{' '}
          <Link href={boardAddress(me.board, 'song', me.role)} prefetch={false}>
            Choose the recording first.
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
      <Follow follow={follow} />
      <Options follow={follow} />
    </>
  );
}

const stretchButton =
  'min-h-11 rounded-full border border-edge px-3 hover:border-ink aria-pressed:border-ink aria-pressed:bg-ink aria-pressed:text-paper';

/** What to dance again and again, and what is added to the music. */
function Options({ follow }: { follow: Following }) {
  const { score } = follow;
  const { loop, counted } = usePlayer();
  return (
    <div className="mt-8 grid gap-8 md:grid-cols-2 lg:grid-cols-[2fr_1fr]">
      <section aria-labelledby="again">
        <h2 id="again" className="text-2xl">
          Again and again
        </h2>
        <ul className="mt-3 space-y-3">
          {score.sections.map((section) => {
            const whole = stretchAt(score, section.floor, 'section');
            const phrases = score.phrases.filter((phrase) => phrase.section === section.index);
            return (
              <li key={section.id} className="flex flex-wrap items-center gap-2">
                <button
                  type="button"
                  className={`${stretchButton} min-w-28 text-left lg:min-w-36`}
                  aria-pressed={loop !== null && loop.name === whole?.name}
                  onClick={() => player.setLoop(loop?.name === whole?.name ? null : whole)}
                >
                  {section.name} <span className="opacity-75">{clock(section.floor)}</span>
                </button>
                {phrases.length > 1 ? (
                  <div className="flex flex-wrap items-center gap-2">
                    <span aria-hidden="true" className="text-soft">
                      phrase
                    </span>
                    {phrases.map((phrase, i) => {
                      const stretch = stretchAt(score, phrase.floor, 'phrase');
                      const on = loop !== null && loop.name === stretch?.name;
                      return (
                        <button
                          key={phrase.index}
                          type="button"
                          className={`${stretchButton} min-w-11`}
                          aria-pressed={on}
                          onClick={() => player.setLoop(on ? null : stretch)}
                        >
                          <span className="sr-only">phrase </span>
                          {i + 1}
                          <span className="sr-only"> of {section.name}</span>
                        </button>
                      );
                    })}
                  </div>
                ) : null}
              </li>
            );
          })}
        </ul>
        <OwnStretch follow={follow} />
      </section>
      <section aria-labelledby="help">
        <h2 id="help" className="text-2xl">
          Help with the count
        </h2>
        <Tick
          label="Count in one bar, and click the counts"
          on={counted}
          onChange={(on) => player.setCounted(on)}
        />
        <WaysToCall />
        <p className="mt-3 text-sm text-soft">
          Only for practice: the file for the evening has no clicks. Space plays and pauses.
        </p>
        <TapDelay />
        <KeptHere />
      </section>
    </div>
  );
}

const callWords: Record<Calls, string> = {
  silent: 'not at all',
  spoken: 'spoken',
  sounded: 'by two notes',
};

function WaysToCall() {
  const { calls } = usePlayer();
  const ways = useWaysToCall();
  const name = useId();
  return (
    <fieldset className="mt-4">
      <legend className="text-soft">Call each move two bars ahead</legend>
      {ways.map((way) => (
        <label key={way} className="flex min-h-11 items-center gap-3">
          <input
            type="radio"
            name={name}
            className="size-5 shrink-0 accent-ink"
            checked={calls === way}
            onChange={() => callBy(way)}
          />
          {callWords[way]}
        </label>
      ))}
    </fieldset>
  );
}

/** Whether one may practise where there is no network. */
function KeptHere() {
  const page = useKept();
  const { ready, kept } = usePlayer();
  const words =
    page === 'keeping'
      ? ''
      : page === 'not kept'
        ? 'This browser keeps nothing here: this page needs a network.'
        : kept
          ? 'Kept on this device: this page opens and plays without a network.'
          : ready
            ? 'This page opens without a network; there was no room here to keep the music.'
            : 'This page opens without a network; the music will once it has been made ready.';
  return (
    <p role="status" className="mt-6 border-t border-rule pt-3 text-soft">
      {words}
    </p>
  );
}

function Tick({ label, on, onChange }: { label: string; on: boolean; onChange: (on: boolean) => void }) {
  return (
    <label className="mt-2 flex min-h-11 items-center gap-3">
      <input
        type="checkbox"
        className="size-5 accent-ink"
        checked={on}
        onChange={(event) => onChange(event.target.checked)}
      />
      {label}
    </label>
  );
}
