import type { SectionKind } from '../song/section.ts';
import type { SongPlan } from './floorScore.ts';
import { countsPerBar, recordCounts } from './recordCounts.ts';
import { recordPhrases } from './recordPhrases.ts';
import { inOrder, sectionNames } from './sectionNames.ts';

/** A section as the proposals see it; seconds of record time. */
export interface Part {
  /** Of the section in the plan, or of several that are one. */
  ids: readonly string[];
  name: string;
  kind: SectionKind;
  /** Sections with the same one have the same music: the letter, or the kind where nobody gave letters. */
  like: string;
  /** The bar line at which it begins, and where it ends: the next one's, or the end of the recording. */
  start: number;
  end: number;
  /** Where its phrases begin, the first at `start`. */
  phrases: number[];
}

/** The song's sections in order, with their phrases. */
export function formOf(song: SongPlan): Part[] {
  const sections = inOrder(song.sections);
  const names = sectionNames(sections);
  const counts = recordCounts(song.grid, song.duration);
  const phrases = recordPhrases(counts, sections, song.phraseBars, countsPerBar(song.grid));
  const starts = sections.map((section, i) => {
    const first = phrases.find((phrase) => phrase.section === i);
    return first ? counts[first.first]!.record : section.start;
  });
  return sections.map((section, i) => ({
    ids: [section.id],
    name: names.get(section.id)!,
    kind: section.kind,
    like: section.like || section.kind,
    start: starts[i]!,
    end: starts[i + 1] ?? song.duration,
    phrases: phrases.filter((p) => p.section === i).map((p) => counts[p.first]!.record),
  }));
}

/** A place where the music may be joined: a phrase's first bar line. */
export interface Place {
  at: number;
  part: number;
  /** Number of the phrase in its part; 0 is the beginning of the section. */
  phrase: number;
}

/** Two places between which the recording may be left out. */
export interface Pair {
  from: Place;
  to: Place;
  /** How well the second follows what is before the first: 1 the song does so elsewhere, 0 it never does. */
  follows: number;
  /** Joined a beat before the bar lines, where a pick-up leads over them. */
  atPickUp?: boolean;
}

/** Where a fade may be silent. */
export interface FadePlace {
  /** Seconds of record time. */
  at: number;
  /** Index of its part; -1 where the song has none. */
  part: number;
  /** With the end of the section, not of a phrase inside. */
  whole: boolean;
}

/**
 * Every pair of places that may be joined. Two beginnings of sections; and, within two sections of the same music, the same
 * phrase of both.
 */
export function pairsOf(parts: readonly Part[]): Pair[] {
  const pairs: Pair[] = [];
  for (let i = 0; i < parts.length; i++) {
    for (let j = i + 1; j < parts.length; j++) {
      const [a, b] = [parts[i]!, parts[j]!];
      if (i > 0) {
        const follows = follow(parts, i - 1, j);
        pairs.push({
          from: { at: a.start, part: i, phrase: 0 },
          to: { at: b.start, part: j, phrase: 0 },
          follows,
        });
      }
      if (a.like !== b.like) continue;
      for (let k = 1; k < Math.min(a.phrases.length, b.phrases.length); k++) {
        const alike = Math.abs(a.phrases[k]! - a.start - (b.phrases[k]! - b.start)) < 0.5;
        if (!alike) continue;
        const from = { at: a.phrases[k]!, part: i, phrase: k };
        pairs.push({ from, to: { at: b.phrases[k]!, part: j, phrase: k }, follows: 1 });
      }
    }
  }
  return pairs;
}

/** 1 where such music goes on to such music somewhere in the song, 0.85 where at least the kinds of section do, else 0. */
function follow(parts: readonly Part[], before: number, after: number): number {
  const somewhere = (of: (part: Part) => string) =>
    parts.some(
      (part, k) => k > 0 && of(parts[k - 1]!) === of(parts[before]!) && of(part) === of(parts[after]!),
    );
  if (somewhere((part) => part.like)) return 1;
  return somewhere((part) => part.kind) ? 0.85 : 0;
}
