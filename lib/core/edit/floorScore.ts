import { median } from '../signal/statistics.ts';
import type { Grid } from '../song/grid.ts';
import type { Section } from '../song/section.ts';
import { compileEdit, fadeStart, musicEnd } from './compile.ts';
import type { Edit } from './edit.ts';
import { keptCounts } from './floorCounts.ts';
import { floorPhrases, numbered, phraseOwners } from './floorPhrases.ts';
import { floorSeams } from './floorSeams.ts';
import { floorSections } from './floorSections.ts';
import { countsPerBar, recordCounts } from './recordCounts.ts';
import { recordPhrases } from './recordPhrases.ts';
import type { FloorScore } from './score.ts';
import { inOrder } from './sectionNames.ts';

/** What the floor score needs to know of a song; times in seconds. */
export interface SongPlan {
  grid: Grid;
  sections: Section[];
  /** Bars a phrase unless a section says otherwise. */
  phraseBars: number;
  duration: number;
  lastSound: number;
  firstSound?: number;
}

/**
 * The song as danced: counts, phrases and sections of the recording, seen through the edit. Phrases are cut in record time,
 * then the edit removes counts from them.
 */
export function floorScore(song: SongPlan, edit: Edit): FloorScore {
  const compiled = compileEdit(edit, song);
  const perBar = countsPerBar(song.grid);
  const sections = inOrder(song.sections);
  const all = recordCounts(song.grid, song.duration);
  const source = recordPhrases(all, sections, song.phraseBars, perBar);
  const kept = keptCounts(all, compiled);
  const seams = floorSeams(compiled, kept, perBar);
  const owners = phraseOwners(source, kept, seams);
  const counts = numbered(kept, owners);
  const phrases = floorPhrases(source, owners, kept, counts, compiled.length);
  const fade = fadeStart(edit, compiled);
  return {
    counts,
    ...floorSections(source, sections, phrases, counts, compiled, song.duration),
    seams,
    length: compiled.length,
    musicLength: musicEnd(edit, compiled, song.lastSound),
    fade: fade === null ? null : { from: fade, to: compiled.length },
    countsPerBar: perBar,
    interval: median(counts.slice(1).map((c, i) => c.floor - counts[i]!.floor)),
  };
}
