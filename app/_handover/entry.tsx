'use client';

import type { ReactNode } from 'react';
import { type EntryFacts, LENGTH_OPEN } from '@/lib/core/agreed/entry.ts';
import { dayWords } from '@/lib/core/areas/days.ts';
import { timeWords } from '@/lib/core/areas/eveningWords.ts';
import { clock } from '@/lib/core/units.ts';
import { type EntryTimes, elsewhere, entryTimes } from '@/lib/zone/entryTimes.ts';

/** Facts that the head and the strip of the entry show already. */
const shownAbove = new Set([
  'couple',
  'starts',
  'time zone',
  'before the music',
  'music',
  'applause',
  'in all',
  'still open',
]);

/** The entry on paper: when, how long, moment by moment, and whatever else is to be known. */
export function Entry({ entry, strip = null }: { entry: EntryFacts; strip?: ReactNode }) {
  const { day, time, zone, moments } = entry;
  const times = entryTimes(entry);
  const lines = Object.entries(entry.facts).filter(
    ([label]) => !shownAbove.has(label) && !label.startsWith('moment '),
  );
  return (
    <article className="mt-5 print:mt-2 border border-edge bg-paper-2/50 px-4 py-5 sm:px-7">
      <header className="flex flex-wrap items-baseline gap-x-6 gap-y-1 border-b-2 border-ink pb-3">
        <p className="font-serif text-4xl">{timeWords(time) || '–:–'}</p>
        <div className="min-w-0">
          <h3 className="text-2xl leading-tight wrap-anywhere">{entry.title}</h3>
          <p className="text-soft">
            {[dayWords(day), time ? '' : 'time not set'].filter(Boolean).join(', ')}
            {zone ? `, ${zone.replaceAll('_', ' ')}` : ''}
          </p>
          {times?.note ? <p className="text-wine">{times.note}</p> : null}
          {times ? <WhereYouAre times={times} /> : null}
        </div>
      </header>
      <Lengths entry={entry} />
      {strip}
      {moments.length > 0 ? (
        <table className="mt-5 w-full text-left">
          <thead>
            <tr className="text-sm text-soft">
              {times ? <th className="w-24 font-normal">on the clock</th> : null}
              <th className={`w-28 pr-5 font-normal ${times ? 'hidden sm:table-cell' : ''}`}>in the music</th>
              <th className="font-normal">who does what</th>
            </tr>
          </thead>
          <tbody>
            {moments.map((moment) => (
              <tr
                key={`${moment.floor}/${moment.who}/${moment.what}`}
                className="border-t border-rule align-top"
              >
                {times ? (
                  <td className="py-1.5">
                    {times.clock(moment.after)}
                    <span className="block text-soft sm:hidden">{clock(moment.floor)}</span>
                  </td>
                ) : null}
                <td className={`py-1.5 ${times ? 'hidden sm:table-cell' : ''}`}>{clock(moment.floor)}</td>
                <td className="py-1.5 wrap-anywhere">
                  <strong className="font-semibold">{moment.who}</strong>, {moment.what}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      <dl className="mt-5 grid gap-x-6 gap-y-1 sm:grid-cols-[9rem_1fr]">
        {lines.map(([label, value]) => (
          <div key={label} className="contents">
            <dt className="text-soft">{label}</dt>
            <dd className="mb-2 wrap-anywhere sm:mb-0">{value}</dd>
          </div>
        ))}
      </dl>
    </article>
  );
}

/** The party's times are told by the clock where it is, and what somebody said by the reader's own: said where these differ. */
function WhereYouAre({ times }: { times: EntryTimes }) {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const there = elsewhere(times.at(0), here);
  if (!there) return null;
  const on = there.day ? ` on ${dayWords(there.day)}` : '';
  return (
    <p className="text-sm text-soft">
      All times of the evening are those where the party is. It is {there.time}
      {on} then where you are ({here.replaceAll('_', ' ')}); when somebody wrote something is told in your
      time.
    </p>
  );
}

/** Lead, music and applause to scale, with their lengths beneath. */
function Lengths({ entry: { lead, musicLength, applause, total, missing } }: { entry: EntryFacts }) {
  if (musicLength === null || total === null)
    return missing.includes(LENGTH_OPEN) ? (
      <p className="mt-4 text-wine">
        How long it takes is open: the DJ’s own copy does not fit. It stands here once they have checked the
        right file, or play the finished one.
      </p>
    ) : (
      <p className="mt-4 text-soft">The true length stands here as soon as the song is on the board.</p>
    );
  const parts = [
    { words: 'before the music', seconds: lead, look: 'border-dashed' },
    { words: 'music', seconds: musicLength as number, look: 'bg-ink border-ink' },
    { words: 'applause', seconds: applause, look: 'border-dotted' },
  ].filter((part) => part.seconds > 0);
  return (
    <div className="mt-4">
      <p>
        In all <strong className="font-serif text-2xl font-medium">{clock(total)}</strong>
      </p>
      <ul className="mt-1 flex">
        {parts.map((part) => (
          <li key={part.words} className="min-w-20" style={{ flexGrow: part.seconds, flexBasis: 0 }}>
            <span aria-hidden="true" className={`block h-3 border-2 border-edge ${part.look}`} />
            <span className="block pr-2 text-sm leading-tight">
              <strong className="font-semibold">{clock(part.seconds)}</strong>{' '}
              <span className="text-soft">{part.words}</span>
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
