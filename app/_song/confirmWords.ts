import type { Plan } from '@/lib/core/areas/plan.ts';
import { median } from '@/lib/core/signal/statistics.ts';
import {
  type Certainty,
  certainty,
  listed,
  type SongAspect,
  type Standing,
} from '@/lib/core/song/confirmed.ts';
import { clock } from '@/lib/core/units.ts';
import { metreWords } from './metreWords.ts';

/** What asks a person. */
export const PLEASE: Certainty = 'please check';

/** `confirmed by Rosa`; while it is open, how sure the program is of it, or how much of it nobody has confirmed. */
export function sureOf({ open, words, by, confidence }: Standing): string {
  if (!open) return `confirmed by ${listed(by)}`;
  if (by.length > 0) return `${words} not confirmed`;
  if (confidence === null) return 'not confirmed';
  const sure = certainty(confidence);
  return sure === PLEASE ? sure : `${sure}, not confirmed`;
}

/** Each as it was heard, in words. */
export function heardWords({ grid, sections }: Pick<Plan, 'grid' | 'sections'>): Record<SongAspect, string> {
  if (!grid) return { metre: '', beats: '', bars: '', sections: '' };
  const tempo = tempoOf(grid.beats);
  return {
    metre: metreWords(grid),
    beats: `${Math.round(tempo)} a minute, ${Math.round((tempo / grid.beatsPerBar) * 10) / 10} bars a minute`,
    bars: `${grid.bars.length}, the first at ${firstBar(grid)}`,
    sections: String(sections.length),
  };
}

/** What a word to these confirms: `Confirms three beats a bar, 90 beats a minute and where 9 sections begin.` */
export function confirmWords(
  { grid, sections }: Pick<Plan, 'grid' | 'sections'>,
  aspects: readonly SongAspect[],
): string {
  if (!grid) return '';
  const open = sections.filter(({ confirmedBy }) => confirmedBy === null).length;
  const words: Record<SongAspect, string> = {
    metre: metreWords(grid),
    beats: `${Math.round(tempoOf(grid.beats))} beats a minute`,
    bars: `bars from ${firstBar(grid)} on`,
    sections: `where ${open === sections.length ? '' : `${open} of `}${sections.length} sections begin`,
  };
  return `Confirms ${listed(aspects.map((about) => words[about]))}.`;
}

/** Beats a minute, median. */
export const tempoOf = (beats: readonly number[]): number =>
  60 / median(beats.slice(1).map((t, i) => t - beats[i]!));

const firstBar = ({ beats, bars }: { beats: readonly number[]; bars: readonly number[] }): string =>
  clock(beats[bars[0] ?? 0] ?? 0, 1);
