import { type Grid, gridAspects } from './grid.ts';
import type { Heard } from './recording.ts';
import type { Section } from './section.ts';

/**
 * A confidence in words. Those below 0.7 ask the person; the border between the other two is common practice, no source.
 */
export type Certainty = 'sure' | 'fairly sure' | 'please check';

export const certainty = (confidence: number): Certainty =>
  confidence >= 0.9 ? 'sure' : confidence >= 0.7 ? 'fairly sure' : 'please check';

/** What of a song the program hears and people then say is right. Key and loudness are no part: nothing is danced by them. */
export const songAspects = [...gridAspects, 'sections'] as const;
export type SongAspect = (typeof songAspects)[number];

/** How one of these stands. */
export interface Standing {
  about: SongAspect;
  /** Nobody has said that it is right, or not of all of it. */
  open: boolean;
  /** What of it is open, or all of it: `bars`, `2 of 9 sections`. */
  words: string;
  /** Those who said so, each once. */
  by: string[];
  /** How sure the program is; null where it heard nothing. */
  confidence: number | null;
}

interface Song {
  grid: Grid | null;
  sections: readonly Section[];
  heard: Heard | null;
}

/** How each stands; nothing is known of a song without counts. Whatever says that a song is confirmed or not goes by this. */
export function standingOf({ grid, sections, heard }: Song): Standing[] {
  if (!grid || grid.beats.length < 2) return [];
  const names = sections.map(({ confirmedBy }) => confirmedBy);
  return [
    ...gridAspects.map((about) => standing(about, [grid.confirmedBy[about]], heard, about)),
    standing('sections', names, heard, sectionWords(names)),
  ];
}

function standing(
  about: SongAspect,
  names: readonly (string | null)[],
  heard: Heard | null,
  words: string,
): Standing {
  const by = [...new Set(names.filter((name) => name !== null))];
  const open = names.length === 0 || names.includes(null);
  return { about, open, words, by, confidence: heard?.confidence[about] ?? null };
}

function sectionWords(names: readonly (string | null)[]): string {
  const open = names.filter((name) => name === null).length;
  return open === 0 || open === names.length ? 'sections' : `${open} of ${names.length} sections`;
}

/** What of a song nobody has confirmed. */
export const openOf = (song: Song): Standing[] => standingOf(song).filter(({ open }) => open);

/** Surer than this of a way to count the song, nobody is asked. */
export const SURE = 0.9;

/** Metre, beats or bars are neither sure nor confirmed: one question is worth asking, and what goes by them says so. */
export const isUnsure = (song: Song): boolean =>
  openOf(song).some(({ about, confidence }) => about !== 'sections' && (confidence ?? 0) < SURE);

/** `metre, bars and 2 of 9 sections`; empty for none. */
export const openWords = (open: readonly Standing[]): string => listed(open.map(({ words }) => words));

/** `a, b and c` */
export const listed = (words: readonly string[]): string =>
  words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
