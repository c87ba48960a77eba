'use client';

import { useId } from 'react';
import { useKept } from '../_client/keepPages.ts';
import { player, usePlayer } from './player.ts';
import { TapDelay } from './tapDelay.tsx';
import { Tick } from './tick.tsx';
import { callBy, useWaysToCall } from './useCalls.ts';
import { callChoices, help, kept as keptWords } from './words.ts';

/** What is added to the music, and what this device makes up for. */
export function HelpOptions() {
  const { counted } = usePlayer();
  return (
    <section aria-labelledby="help">
      <h2 id="help" className="text-2xl">
        {help.title}
      </h2>
      <Tick label={help.counted} on={counted} onChange={(on) => player.setCounted(on)} />
      <WaysToCall />
      <p className="mt-3 text-sm text-soft">{help.only}</p>
      <TapDelay />
      <KeptHere />
    </section>
  );
}

function WaysToCall() {
  const { calls } = usePlayer();
  const ways = useWaysToCall();
  const name = useId();
  return (
    <fieldset className="mt-4">
      <legend className="text-soft">{help.calls}</legend>
      {ways.map((way) => (
        <label key={way} className="flex min-h-11 items-center gap-3">
          <input
            type="radio"
            name={name}
            className="size-5 shrink-0 accent-ink"
            checked={calls === way}
            onChange={() => callBy(way)}
          />
          {callChoices[way]}
        </label>
      ))}
    </fieldset>
  );
}

/** Whether one may practise where there is no network. */
function KeptHere() {
  const page = useKept();
  const { ready, kept } = usePlayer();
  const said =
    page === 'keeping'
      ? ''
      : page === 'not kept'
        ? keptWords.not
        : kept
          ? keptWords.all
          : ready
            ? keptWords.noRoom
            : keptWords.soon;
  return (
    <p role="status" className="mt-6 border-t border-rule pt-3 text-soft">
      {said}
    </p>
  );
}
