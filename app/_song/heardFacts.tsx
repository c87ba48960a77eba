'use client';

import { median } from '@/lib/core/signal/statistics.ts';
import { suits } from '@/lib/core/song/suits.ts';
import { clock, signed } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { certainty } from './confidence.ts';
import { metreWords } from './metreWords.ts';

interface Fact {
  about: string;
  words: string;
  /** How sure; null for what is measured and not guessed. */
  sure: string | null;
}

/** What was heard, each with how sure that is; and which dances suit. */
export function HeardFacts() {
  const plan = usePlan();
  const { grid, heard } = plan;
  if (!grid) return null;
  const tempo = 60 / median(grid.beats.slice(1).map((t, i) => t - grid.beats[i]!));
  const by = grid.confirmedBy === null ? null : `confirmed by ${grid.confirmedBy}`;
  const sections = plan.sectionsConfirmedBy ? `confirmed by ${plan.sectionsConfirmedBy}` : null;
  const sure = heard?.confidence;
  const facts: Fact[] = [
    { about: 'metre', words: metreWords(grid), sure: by ?? (sure ? certainty(sure.metre) : null) },
    {
      about: 'beats',
      words: `${Math.round(tempo)} a minute, ${Math.round((tempo / grid.beatsPerBar) * 10) / 10} bars a minute`,
      sure: by ?? (sure ? certainty(sure.beats) : null),
    },
    {
      about: 'bars',
      words: `${grid.bars.length}, the first at ${clock(grid.beats[grid.bars[0] ?? 0] ?? 0, 1)}`,
      sure: by ?? (sure ? certainty(sure.bars) : null),
    },
    {
      about: 'sections',
      words: String(plan.sections.length),
      sure: sections ?? (sure ? certainty(sure.sections) : null),
    },
  ];
  if (heard) {
    facts.push(
      { about: 'key', words: heard.key, sure: certainty(heard.confidence.key) },
      {
        about: 'loudness',
        words: `${signed(heard.loudness, 1)} LUFS, peak ${signed(heard.truePeak, 1)} dBTP`,
        sure: null,
      },
      {
        about: 'sound',
        words: `from ${clock(heard.firstSound, 1)} to ${clock(heard.lastSound, 1)}`,
        sure: null,
      },
    );
  }
  return (
    <section aria-labelledby="heard">
      <h2 id="heard" className="text-2xl">
        What was heard
      </h2>
      <dl className="mt-3 grid gap-x-8 gap-y-3 sm:grid-cols-2 lg:grid-cols-4">
        {facts.map(({ about, words, sure }) => (
          <div key={about}>
            <dt className="text-sm text-soft">{about}</dt>
            <dd>
              <span className="font-semibold">{words}</span>
              {sure === null ? null : (
                <span className={`block text-sm ${sure === 'please check' ? 'text-wine' : 'text-soft'}`}>
                  {sure}
                </span>
              )}
            </dd>
          </div>
        ))}
      </dl>
      <Suits metre={{ beats: grid.beatsPerBar, subdivision: grid.subdivision }} tempo={tempo} />
    </section>
  );
}

/** Offered at most; the rest is far from the song. */
const OFFERED = 4;

function Suits({ metre, tempo }: { metre: Parameters<typeof suits>[0]; tempo: number }) {
  const dances = suits(metre, tempo).slice(0, OFFERED);
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
