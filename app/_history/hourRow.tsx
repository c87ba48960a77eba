'use client';

import { useState } from 'react';
import type { BoardHistory } from '@/lib/protocol/api.ts';
import { instantWords } from '../_studio/dates.ts';
import { ask } from '../_ui/api.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { areaWords, roleWords } from '../_ui/roles.ts';
import type { Said } from './historyScreen.tsx';
import { type Hour, hourOf, timeWords, writerWords } from './words.ts';

/** One who wrote in one part of the board in one hour, and the ways back to before and after. */
export function HourRow({
  board,
  hour,
  links,
  later,
  isNow,
  onSaid,
}: {
  board: string;
  hour: Hour;
  links: BoardHistory['links'];
  /** What was written in the same part since. */
  later: readonly Hour[];
  /** The part is now as it was then. */
  isNow: boolean;
  onSaid: (said: Said) => Promise<void>;
}) {
  const [asking, setAsking] = useState<'open' | 'take back' | null>(null);
  const { at, area, by } = hour;
  const part = areaWords[area];
  const when = instantWords(at);
  const since = hourOf(at);
  const send = async <T,>(path: string, json: object): Promise<T | null> => {
    setAsking(null);
    const done = await ask<T>(`/api/boards/${board}/history/${path}?as=instructor`, { method: 'POST', json });
    if (done.ok) return done.value;
    await onSaid({ kind: 'wrong', sentences: [done.sentence] });
    return null;
  };
  const open = async () => {
    const done = await send('restore', { area, at });
    if (done) await onSaid({ kind: 'settled', sentences: [`“${part}” is open as of ${when}.`] });
  };
  const takeBack = async () => {
    const done = await send<{ undone: number; left: string[] }>('take-back', { link: by.link, since });
    if (!done) return;
    const { undone, left } = done;
    const words =
      undone === 0
        ? 'Nothing was taken back.'
        : undone === 1
          ? 'One change was taken back.'
          : `${undone} changes were taken back.`;
    await onSaid({ kind: 'settled', sentences: [words, ...left] });
  };
  return (
    <li className="grid items-center gap-x-6 gap-y-1 border-b border-rule py-2 md:grid-cols-[4rem_1fr_auto]">
      <p className="font-semibold">{timeWords(at)}</p>
      <p className="min-w-0">
        <span className="font-serif text-xl">{part}</span>{' '}
        <span className="text-soft">{writerWords(hour, links)}</span>
      </p>
      <p className="-ml-2 flex flex-wrap items-center md:justify-end">
        {by.link === null ? null : (
          <Button
            look="quiet"
            className="px-2!"
            aria-label={`Take back what this link of the ${roleWords[by.role]} wrote since ${instantWords(since)}`}
            onClick={() => setAsking('take back')}
          >
            Take back
          </Button>
        )}
        {isNow ? (
          <span className="px-2 text-soft">as it is now</span>
        ) : (
          <Button
            look="quiet"
            className="px-2!"
            aria-label={`Open “${part}” as of ${when}`}
            onClick={() => setAsking('open')}
          >
            Open as of then
          </Button>
        )}
      </p>
      {asking === 'open' ? (
        <Asking
          title={`Open “${part}” as of ${when}?`}
          yes="Open it as of then"
          no="Leave it as it is"
          onNo={() => setAsking(null)}
          onYes={() => void open()}
        >
          <Lost later={later} />
          {area === 'plan' ? (
            <p>
              If the DJ said yes to a later version, or the run of show was marked final, the board will say
              that this has changed.
            </p>
          ) : null}
          <p>Nothing is lost for good: open it as of a later hour to have that back.</p>
        </Asking>
      ) : null}
      {asking === 'take back' ? (
        <Asking
          title={`Take back what this link of the ${roleWords[by.role]} wrote since ${instantWords(since)}?`}
          yes="Take it back"
          no="Leave it as it is"
          onNo={() => setAsking(null)}
          onYes={() => void takeBack()}
        >
          <p>
            In all parts of the board, and with it what links wrote that were made with this one. What others
            wrote stays; where they built on it, you are told what was left.
          </p>
          <p>The link keeps working: stop it under Links.</p>
        </Asking>
      ) : null}
    </li>
  );
}

/** Whose words leave the board. */
function Lost({ later }: { later: readonly Hour[] }) {
  if (later.length === 0) return null;
  const who = [...new Set(later.map(({ by }) => (by.link === null ? 'you' : `the ${roleWords[by.role]}`)))];
  return <p>What was written there after that leaves the board. It was written by {who.join(', ')}.</p>;
}
