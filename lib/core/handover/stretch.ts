import type { FloorPhrase, FloorScore } from '../edit/score.ts';
import { type FloorTime, floorTime } from '../units.ts';

/** How much of the dance: a phrase, its section, or all of it. */
export const SCOPES = ['phrase', 'section', 'all'] as const;
export type Scope = (typeof SCOPES)[number];

/** Of the dance as it is played, to be danced again and again. */
export interface Stretch {
  /** `chorus 1, phrase 2`; empty for all of it. */
  name: string;
  from: FloorTime;
  to: FloorTime;
  /** `own`: from one bar through another, as somebody chose. */
  scope: Scope | 'own';
}

/** Bars before a stretch with which each round begins: moves are led before the phrase opens. */
const RUN_UP_BARS = 2;
/** Two moments nearer than this are one, in seconds. */
const NEAR = 1e-6;

/** The stretch of this scope that a moment lies in; null in a song whose sections are not known. */
export function stretchAt(score: FloorScore, at: FloorTime, scope: Scope): Stretch | null {
  if (scope === 'all') return { name: '', from: floorTime(0), to: score.length, scope };
  const section = score.sections.findLast((one) => one.floor <= at + NEAR);
  if (scope === 'section')
    return section ? { name: section.name, from: section.floor, to: section.end, scope } : null;
  const phrase = score.phrases.findLast((one) => one.floor <= at + NEAR) ?? score.phrases[0];
  return phrase ? phraseStretch(score, phrase) : null;
}

export function phraseStretch(score: FloorScore, phrase: FloorPhrase): Stretch {
  const own = score.phrases.filter(({ section }) => section === phrase.section);
  const which = own.length > 1 ? `, phrase ${own.indexOf(phrase) + 1}` : '';
  const name = `${score.sections[phrase.section]?.name ?? ''}${which}`;
  return { name, from: phrase.floor, to: phrase.end, scope: 'phrase' };
}

/** The next wider stretch around this one; null where it is all already. */
export function wider(score: FloorScore, { from, to, scope }: Stretch): Stretch | null {
  for (const next of SCOPES.slice(SCOPES.indexOf(scope as Scope) + 1)) {
    const found = stretchAt(score, from, next);
    if (found && (found.from < from - NEAR || found.to > to + NEAR)) return found;
  }
  return null;
}

/** Where each round begins: two bars before the stretch, as far as there is music before it. */
export function runUpTo(score: FloorScore, from: FloorTime): FloorTime {
  const bars = score.counts.filter(({ inBar, floor }) => inBar === 0 && floor < from - NEAR);
  return bars.at(-RUN_UP_BARS)?.floor ?? bars[0]?.floor ?? from;
}
