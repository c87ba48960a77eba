'use client';

import type { ReactNode } from 'react';
import type { FloorScore, FloorSection } from '@/lib/core/edit/score.ts';
import { phraseStretch, type Stretch, stretchAt, wider } from '@/lib/core/handover/stretch.ts';
import { clock, floorTime } from '@/lib/core/units.ts';
import { Button } from '../_ui/button.tsx';
import type { Following } from './followed.ts';
import { goRound } from './goRound.ts';
import { OwnStretch } from './ownStretch.tsx';
import { usePlayer } from './player.ts';
import { again } from './words.ts';

const stretchButton =
  'min-h-11 rounded-full border border-edge px-3 hover:border-ink aria-pressed:border-ink aria-pressed:bg-ink aria-pressed:text-paper';

/** What to dance again and again: a phrase, a section, all of it, or a stretch of one's own. */
export function Again({ follow }: { follow: Following }) {
  const { score } = follow;
  const { loop } = usePlayer();
  const next = loop ? wider(score, loop) : null;
  const all = stretchAt(score, floorTime(0), 'all')!;
  return (
    <section aria-labelledby="again">
      <h2 id="again" className="text-2xl">
        {again.title}
      </h2>
      <ul className="mt-3 space-y-3">
        {score.sections.map((section) => (
          <Section key={section.id} section={section} score={score} />
        ))}
      </ul>
      <p className="mt-3 flex flex-wrap gap-2">
        <StretchButton stretch={all} score={score}>
          {again.all}
        </StretchButton>
        {next ? <Button onClick={() => goRound(score, next)}>{again.wider(next)}</Button> : null}
      </p>
      <OwnStretch follow={follow} />
    </section>
  );
}

function Section({ section, score }: { section: FloorSection; score: FloorScore }) {
  const whole = stretchAt(score, section.floor, 'section');
  const phrases = score.phrases.filter((phrase) => phrase.section === section.index);
  return (
    <li className="flex flex-wrap items-center gap-2">
      {whole ? (
        <StretchButton stretch={whole} score={score} className="min-w-28 text-left lg:min-w-36">
          {section.name} <span className="opacity-75">{clock(section.floor)}</span>
        </StretchButton>
      ) : null}
      {phrases.length > 1 ? (
        <div className="flex flex-wrap items-center gap-2">
          <span aria-hidden="true" className="text-soft">
            phrase
          </span>
          {phrases.map((phrase, i) => (
            <StretchButton
              key={phrase.index}
              stretch={phraseStretch(score, phrase)}
              score={score}
              className="min-w-11"
            >
              <span className="sr-only">phrase </span>
              {i + 1}
              <span className="sr-only"> of {section.name}</span>
            </StretchButton>
          ))}
        </div>
      ) : null}
    </li>
  );
}

/** Pressed while it is danced again and again; pressed once more, no longer. */
function StretchButton({
  stretch,
  score,
  className = '',
  children,
}: {
  stretch: Stretch;
  score: FloorScore;
  className?: string;
  children: ReactNode;
}) {
  const { loop } = usePlayer();
  const on = loop !== null && loop.scope === stretch.scope && loop.name === stretch.name;
  return (
    <button
      type="button"
      className={`${stretchButton} ${className}`}
      aria-pressed={on}
      onClick={() => goRound(score, on ? null : stretch)}
    >
      {children}
    </button>
  );
}
