'use client';

import type { ReactNode } from 'react';
import { hasFigures } from '@/lib/core/dance/kinds.ts';
import { certainty, listed, type SongAspect, standingOf } from '@/lib/core/song/confirmed.ts';
import type { Heard } from '@/lib/core/song/recording.ts';
import { suits } from '@/lib/core/song/suits.ts';
import { clock, signed } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { Button } from '../_ui/button.tsx';
import { Drawer } from '../_ui/drawer.tsx';
import { confirmable, confirmed } from './confirmSteps.ts';
import { confirmWords, heardWords, PLEASE, sureOf, tempoOf } from './confirmWords.ts';
import { useSongChange } from './useSongChange.tsx';
import { page } from './words.ts';

/** What was heard, each with how sure that is or who confirmed it, and a word to confirm it. */
export function HeardFacts() {
  const plan = usePlan();
  const { may, apply, words: refusal } = useSongChange();
  const [me] = useMyName();
  if (!plan.grid) return null;
  const facts = heardWords(plan);
  const standing = standingOf(plan);
  const open = may ? confirmable(plan) : [];
  const confirm = (aspects: readonly SongAspect[]) => apply(confirmed(plan, aspects, me));
  const signers = [...new Set(standing.map(({ open, by }) => (open ? '' : listed(by))))];
  const [signer] = signers;
  /** All of it is the word of the same people, which is said once. */
  const isOneWord = signers.length === 1 && signer !== '';
  return (
    <>
      {open.length > 1 ? (
        <Button
          look="main"
          className="mb-3"
          data-does="heard"
          aria-description={confirmWords(plan, open)}
          onClick={() => confirm(open)}
        >
          All of this is right
        </Button>
      ) : null}
      {refusal}
      <dl className="mb-1 grid max-w-6xl gap-x-8 gap-y-2 sm:grid-cols-2 lg:grid-cols-4">
        {standing.map((one) => (
          <FactItem
            key={one.about}
            about={one.about}
            words={facts[one.about]}
            sure={isOneWord ? undefined : sureOf(one)}
          >
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
      </dl>
      {isOneWord ? <p className="font-semibold text-moss">{page.confirmed(signer!)}</p> : null}
    </>
  );
}

/** What nothing hangs on and nobody has to put right: key, loudness, and which dances suit. */
export function MoreHeard() {
  const { grid, heard } = usePlan();
  if (!grid) return null;
  return (
    <Drawer title={page.more}>
      {heard ? (
        <dl className="grid max-w-6xl gap-x-8 gap-y-2 sm:grid-cols-2 lg:grid-cols-4">
          <Measured heard={heard} />
        </dl>
      ) : null}
      <Suits metre={{ beats: grid.beatsPerBar, subdivision: grid.subdivision }} tempo={tempoOf(grid.beats)} />
    </Drawer>
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
  sure?: string | undefined;
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
