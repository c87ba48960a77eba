'use client';

import type { ReactNode } from 'react';
import { hasFigures } from '@/lib/core/dance/kinds.ts';
import { certainty, type SongAspect, standingOf } from '@/lib/core/song/confirmed.ts';
import type { Heard } from '@/lib/core/song/recording.ts';
import { suits } from '@/lib/core/song/suits.ts';
import { clock, signed } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { Button } from '../_ui/button.tsx';
import { confirmable, confirmed } from './confirmSteps.ts';
import { confirmWords, heardWords, PLEASE, sureOf, tempoOf } from './confirmWords.ts';
import { useSongChange } from './useSongChange.tsx';

/** What was heard, each with how sure that is or who confirmed it, and a word to confirm it; and which dances suit. */
export function HeardFacts() {
  const plan = usePlan();
  const { may, apply, words: refusal } = useSongChange();
  const [me] = useMyName();
  const { grid, heard } = plan;
  if (!grid) return null;
  const tempo = tempoOf(grid.beats);
  const facts = heardWords(plan);
  const standing = standingOf(plan);
  const open = may ? confirmable(plan) : [];
  const confirm = (aspects: readonly SongAspect[]) => apply(confirmed(plan, aspects, me));
  return (
    <section aria-labelledby="heard">
      <h2 id="heard" className="text-2xl">
        What was heard
      </h2>
      {open.length > 1 ? (
        <div className="mt-2 flex flex-wrap items-center gap-x-4 gap-y-2">
          <Button look="main" data-does="heard" onClick={() => confirm(open)}>
            All of this is right
          </Button>
          <p className="min-w-52 flex-1 text-soft">{confirmWords(plan, open)}</p>
        </div>
      ) : null}
      {refusal}
      <dl className="mt-4 grid gap-x-8 gap-y-4 sm:grid-cols-2 lg:grid-cols-4">
        {standing.map((one) => (
          <FactItem key={one.about} about={one.about} words={facts[one.about]} sure={sureOf(one)}>
            {open.includes(one.about) ? (
              <Button
                className="px-3 sm:mt-1"
                aria-label={`This is right: ${one.about}`}
                data-does={open.length === 1 ? 'heard' : undefined}
                onClick={() => confirm([one.about])}
              >
                This is right
              </Button>
            ) : null}
          </FactItem>
        ))}
        {heard ? <Measured heard={heard} /> : null}
      </dl>
      <Suits metre={{ beats: grid.beatsPerBar, subdivision: grid.subdivision }} tempo={tempo} />
    </section>
  );
}

function Measured({ heard }: { heard: Heard }) {
  const { key, confidence, loudness, truePeak, firstSound, lastSound } = heard;
  const sure = certainty(confidence.key);
  return (
    <>
      {/* Nothing hangs on the key, and nobody can put it right here: it asks for nothing. */}
      <FactItem about="key" words={key} sure={sure === PLEASE ? 'a guess' : sure} />
      <FactItem about="loudness" words={`${signed(loudness, 1)} LUFS, peak ${signed(truePeak, 1)} dBTP`} />
      <FactItem about="sound" words={`from ${clock(firstSound, 1)} to ${clock(lastSound, 1)}`} />
    </>
  );
}

function FactItem({
  about,
  words,
  sure,
  children,
}: {
  about: string;
  words: string;
  /** How sure, or whose word it is; none for what is measured and not guessed. */
  sure?: string;
  children?: ReactNode;
}) {
  return (
    <div className="grid grid-cols-[1fr_auto] content-start gap-x-3 sm:block">
      <dt className="col-start-1 text-sm text-soft">{about}</dt>
      <dd className="col-start-1">
        <span className="font-semibold">{words}</span>
        {sure ? (
          <span className={`block text-sm ${sure === PLEASE ? 'text-wine' : 'text-soft'}`}>{sure}</span>
        ) : null}
      </dd>
      {/* On a phone beside what it is for. */}
      {children ? <dd className="col-start-2 row-span-2 row-start-1 self-center">{children}</dd> : null}
    </div>
  );
}

/** Offered at most; the rest is far from the song. */
const OFFERED = 4;

function Suits({ metre, tempo }: { metre: Parameters<typeof suits>[0]; tempo: number }) {
  const dances = suits(metre, tempo)
    .filter(({ dance }) => hasFigures(dance))
    .slice(0, OFFERED);
  if (dances.length === 0) {
    return (
      <p className="mt-4">No dance with a published tempo is near this one: sway, or a dance of your own.</p>
    );
  }
  return (
    <div className="mt-5">
      <h3 className="text-lg">Dances that suit</h3>
      <ul className="mt-1 flex flex-wrap gap-x-8 gap-y-2">
        {dances.map(({ dance, bars, low, high, at, within }) => (
          <li key={dance}>
            <span className="sung inline-block text-lg first-letter:capitalize">{dance}</span>
            <span className="block text-sm text-soft">
              {Math.round(bars)} bars a minute{at === 'as heard' ? '' : `, counted ${at}`}; usual {low} to{' '}
              {high}
              {within ? '' : ', so only near'}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
