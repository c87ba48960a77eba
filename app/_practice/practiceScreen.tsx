'use client';

import Link from 'next/link';
import { useEffect, useMemo, useState } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { clock, floorTime } from '@/lib/core/units.ts';
import type { Me } from '../_client/boardClient.ts';
import { useBoard } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { Button } from '../_ui/button.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { following, type Moment, momentAt, stretchAt } from './followed.ts';
import { player, usePlayer } from './player.ts';
import { useAwake } from './useAwake.ts';

/** Dancing to the music as edited: what to listen for, the count, the next move, to be read from across a room. */
export function PracticeScreen({ me }: { me: Me }) {
  const { board, score } = useBoard();
  const { ready } = usePlayer();
  // Here the music is what people come for: it is made ready before anybody asks.
  useEffect(() => {
    if (!ready) player.prepare();
  }, [ready]);
  return (
    <BoardFrame player>
      {board.plan.recording && score ? (
        <>
          <Follow score={score} />
          <Options score={score} />
        </>
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

function Follow({ score }: { score: FloorScore }) {
  const { board } = useBoard();
  const { at, playing } = usePlayer();
  const follow = useMemo(() => following(board.plan, score), [board.plan, score]);
  const moment = momentAt(follow, at ?? floorTime(0));
  const [alone, setAlone] = useState(false);
  useAwake(playing);
  return (
    <section
      aria-label="Follow the music"
      className={`bg-night p-5 text-night-ink md:p-8 ${alone ? 'fixed inset-0 z-10 flex flex-col justify-evenly overflow-auto pb-36' : 'rounded'}`}
    >
      <Button
        look="night"
        className={alone ? 'absolute top-4 right-4' : 'float-right ml-4'}
        aria-pressed={alone}
        onClick={() => setAlone(!alone)}
      >
        {alone ? 'Back to the page' : 'Fill the screen'}
      </Button>
      <div className="clear-both grid gap-x-8 gap-y-5 pt-3 md:grid-cols-[1fr_auto]">
        <div className="min-w-0">
          <p className="text-lg text-night-soft">{moment.section || 'before the music'}</p>
          <p
            className={`sung leading-none break-words ${alone ? 'text-[clamp(4rem,17vw,15rem)]' : 'text-[clamp(3.25rem,13vw,9rem)]'}`}
          >
            <span className="sr-only">Heard now: </span>
            {moment.now || '…'}
          </p>
        </div>
        <p
          className={`font-serif leading-none md:text-right ${alone ? 'text-[clamp(6rem,22vw,18rem)]' : 'text-[clamp(4.5rem,18vw,12rem)]'}`}
        >
          <span className="sr-only">Count </span>
          {moment.said || '–'}
        </p>
      </div>
      <dl className="mt-6 grid gap-x-8 gap-y-4 border-t border-night-rule pt-5 md:grid-cols-2">
        <div className="min-w-0">
          <dt className="text-lg text-night-soft">next to listen for</dt>
          <dd className="sung text-[clamp(2rem,6vw,4.25rem)] leading-tight break-words">
            {moment.next?.word ?? 'nothing more'}
          </dd>
        </div>
        <div className="min-w-0">
          <dt className="text-lg text-night-soft">{moment.call ? whenOf(moment) : 'next move'}</dt>
          <dd className="text-[clamp(2rem,6vw,4.25rem)] leading-tight font-semibold break-words">
            {moment.call?.name ?? 'none'}
          </dd>
        </div>
      </dl>
      <p role="status" className="sr-only">
        {moment.call ? `Next: ${moment.call.name}` : ''}
      </p>
    </section>
  );
}

const whenOf = ({ call, callWhen }: Moment): string => `${callWhen}${call?.on ? `, on “${call.on}”` : ''}`;

const stretchButton =
  'min-h-11 rounded-full border border-edge px-3 hover:border-ink aria-pressed:border-ink aria-pressed:bg-ink aria-pressed:text-paper';

/** What to dance again and again, and what is added to the music. */
function Options({ score }: { score: FloorScore }) {
  const { loop, counted } = usePlayer();
  return (
    <div className="mt-8 grid gap-8 md:grid-cols-[2fr_1fr]">
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
                  className={`${stretchButton} min-w-36 text-left`}
                  aria-pressed={loop !== null && loop.name === whole?.name}
                  onClick={() => player.setLoop(loop?.name === whole?.name ? null : whole)}
                >
                  {section.name} <span className="opacity-75">{clock(section.floor)}</span>
                </button>
                {phrases.length > 1
                  ? phrases.map((phrase, i) => {
                      const stretch = stretchAt(score, phrase.floor, 'phrase');
                      const on = loop !== null && loop.name === stretch?.name;
                      return (
                        <button
                          key={phrase.index}
                          type="button"
                          className={stretchButton}
                          aria-pressed={on}
                          onClick={() => player.setLoop(on ? null : stretch)}
                        >
                          phrase {i + 1} <span className="sr-only">of {section.name}</span>
                        </button>
                      );
                    })
                  : null}
              </li>
            );
          })}
        </ul>
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
        <p className="mt-3 text-sm text-soft">
          Only for practice: the file for the evening has no clicks. Space plays and pauses.
        </p>
      </section>
    </div>
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
