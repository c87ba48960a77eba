'use client';

import { type ComponentProps, useMemo, useState } from 'react';
import { clock } from '@/lib/core/units.ts';
import { Choice } from '../_ui/field.tsx';
import { type Following, stretchesOf } from './followed.ts';
import { goRound } from './goRound.ts';
import { usePlayer } from './player.ts';
import { again } from './words.ts';

/** Any stretch again and again: from the start of one bar through the end of another. */
export function OwnStretch({ follow }: { follow: Following }) {
  const { loop } = usePlayer();
  const bars = useMemo(() => stretchesOf(follow.score, follow.cues), [follow]);
  const [from, setFrom] = useState<number | null>(null);
  const [through, setThrough] = useState<number | null>(null);
  if (bars.length < 2) return null;
  const isOn = loop?.scope === 'own' && loop.name === again.own;
  const set = (first: number | null, last: number | null) => {
    setFrom(first);
    setThrough(last);
    const [start, end] = [bars[first ?? -1], bars[last ?? -1]];
    if (start && end && end.to > start.from) {
      goRound(follow.score, { name: again.own, from: start.from, to: end.to, scope: 'own' });
    } else if (isOn) goRound(follow.score, null);
  };
  const given = (value: string): number | null => (value === '' ? null : Number(value));
  const isBackwards = from !== null && through !== null && through < from;
  return (
    <fieldset className="mt-6 max-w-xl">
      <legend className="text-xl">{again.own}</legend>
      <div className="mt-2 grid items-baseline gap-3 sm:grid-cols-2">
        <Bars
          label={again.ownFrom}
          bars={bars}
          value={from}
          onChange={(e) => set(given(e.target.value), through)}
        />
        <Bars
          label={again.ownThrough}
          bars={bars}
          value={through}
          onChange={(e) => set(from, given(e.target.value))}
        />
      </div>
      <p role="status" className="mt-2 min-h-6">
        {isBackwards ? again.backwards : isOn && loop ? again.ownOn(loop.from, loop.to) : ''}
      </p>
    </fieldset>
  );
}

function Bars({
  label,
  bars,
  value,
  onChange,
}: {
  label: string;
  bars: ReturnType<typeof stretchesOf>;
  value: number | null;
  onChange: ComponentProps<'select'>['onChange'];
}) {
  const sections = [...new Set(bars.map((bar) => bar.section))];
  return (
    <Choice label={label} value={value ?? ''} onChange={onChange}>
      <option value="">{again.choose}</option>
      {sections.map((section) => (
        <optgroup key={section} label={section || again.beforeFirst}>
          {bars.map((bar, i) =>
            bar.section === section ? (
              <option key={bar.from} value={i}>
                {clock(bar.from, 1)} {bar.word ? `“${bar.word}”` : ''}
              </option>
            ) : null,
          )}
        </optgroup>
      ))}
    </Choice>
  );
}
