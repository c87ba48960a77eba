'use client';

import { useEffect, useState } from 'react';
import type { Choice } from '@/lib/core/song/ask.ts';
import { type Correction, SAID } from '@/lib/core/song/evidence.ts';
import { signed } from '@/lib/core/song/signing.ts';
import { suits } from '@/lib/core/song/suits.ts';
import { type RecordTime, recordTime } from '@/lib/core/units.ts';
import { usePlayer } from '../_practice/player.ts';
import { Button } from '../_ui/button.tsx';
import { recordSound } from './recordSound.ts';
import { useSongSound } from './songSound.tsx';
import type { Doubt } from './useHearAgain.tsx';
import { ask } from './words.ts';

/** A question is heard from so long before its moment, and the moment is shown so long. Seconds. */
const LEAD = 4;
const SHOWN = 0.35;

/** The ways the song may be counted, each one tap; and, while it is not clear, the one question that settles most. */
export function Readings({
  doubt,
  unsure,
  busy,
  by,
  say,
  look,
}: {
  doubt: Doubt | null;
  /** What was heard is not sure, and nobody has confirmed it. */
  unsure: boolean;
  busy: boolean;
  by: string;
  say(said: Correction[]): void;
  look(): void;
}) {
  const own = { ...SAID, by: signed(by) };
  const answer = (at: RecordTime, yes: boolean) =>
    say([{ ...own, kind: yes ? 'bars' : 'not bars', times: [at] }]);
  const choose = ({ beatsPerBar, subdivision, tempo }: Choice) =>
    say([
      { ...own, kind: 'metre', metre: { beatsPerBar, subdivision } },
      { ...own, kind: 'pace', interval: 60 / tempo },
    ]);
  if (!doubt) {
    return (
      <div>
        <h3 className="text-lg">{ask.title}</h3>
        {unsure ? <p className="mb-2">{ask.unsure}</p> : null}
        <Button look={unsure ? 'main' : 'plain'} disabled={busy} onClick={look}>
          {ask.open}
        </Button>
      </div>
    );
  }
  const { question, choices } = doubt;
  return (
    <div className="space-y-3">
      <h3 className="text-lg">{ask.title}</h3>
      {question?.about === 'one' ? (
        <IsOne key={question.at} at={question.at} busy={busy} answer={answer} />
      ) : question ? (
        <p className="font-semibold">{ask.whichCount}</p>
      ) : (
        <p>{ask.sure}</p>
      )}
      <ul className="space-y-1">
        {choices.map((choice) => (
          <li key={`${choice.beatsPerBar}/${choice.subdivision}/${choice.tempo}`}>
            <Button
              className="h-auto! flex-wrap rounded-lg! text-left"
              disabled={busy}
              onClick={() => choose(choice)}
            >
              <span>{ask.choice(choice, danceFor(choice))}</span>
              <span className="font-normal text-soft">{ask.odds(choice.odds)}</span>
            </Button>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The dance that is named beside a count: the nearest whose published tempo it has. */
const danceFor = ({ beatsPerBar, subdivision, tempo }: Choice): string | null =>
  suits({ beats: beatsPerBar, subdivision }, tempo).find(({ at }) => at === 'as heard')?.dance ?? null;

function IsOne({
  at,
  busy,
  answer,
}: {
  at: RecordTime;
  busy: boolean;
  answer(at: RecordTime, yes: boolean): void;
}) {
  const { hear } = useSongSound();
  const { at: playing } = usePlayer(recordSound);
  const [asked, setAsked] = useState(false);
  // A little after the moment is enough: the ear has it.
  const over = asked && playing !== null && playing > at + 1.2;
  useEffect(() => {
    if (!over) return;
    recordSound.pause();
    setAsked(false);
  }, [over]);
  const isNow = playing !== null && playing >= at - 0.03 && playing < at + SHOWN;
  return (
    <div className="rounded border border-edge p-3">
      <p className="flex min-h-10 items-center gap-3 text-lg">
        <span>{ask.isOne(at)}</span>
        <span
          aria-hidden="true"
          className={`rounded-full border-2 border-ink px-3 text-base font-semibold ${isNow ? 'bg-ink text-paper' : 'text-soft'}`}
        >
          {ask.now}
        </span>
      </p>
      <div className="mt-2 flex flex-wrap gap-2">
        <Button
          onClick={() => {
            setAsked(true);
            hear(recordTime(Math.max(0, at - LEAD)), 'recording');
          }}
        >
          {ask.hear}
        </Button>
        <Button look="main" disabled={busy} onClick={() => answer(at, true)}>
          {ask.yes}
        </Button>
        <Button disabled={busy} onClick={() => answer(at, false)}>
          {ask.no}
        </Button>
      </div>
    </div>
  );
}
