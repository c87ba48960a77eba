import { compileEdit, musicEnd } from '@/lib/core/edit/compile.ts';
import { type Cut, type Edit, edit as editSchema, type SongEnd } from '@/lib/core/edit/edit.ts';
import { SILENT_END } from '@/lib/core/edit/render.ts';
import { seamBetween } from '@/lib/core/edit/seam.ts';
import { inOrder, sectionNames, sectionWords } from '@/lib/core/edit/sectionNames.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { median } from '@/lib/core/signal/statistics.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import type { Section } from '@/lib/core/song/section.ts';
import { clock, floorTime, type RecordTime, recordTime, wholeMicros } from '@/lib/core/units.ts';
import { barTimes, nearestBar } from './sectionSteps.ts';

/** Edits made by hand: each function gives a new edit, or says why it cannot be. Times are record time. */

/** Records fade for 5 to 15 s; common practice, no source. */
export const USUAL_FADE = 8;
/** Shorter than this, seconds, is heard as a stop; longer than the other as a song that is too soft. Common practice, no source. */
export const [LEAST_FADE, MOST_FADE] = [0.5, 60] as const;
/** An edit keeps at least this much music, seconds. */
const LEAST = 5;

/** The edit where it may be stored and leaves enough to dance to. */
export const checked = (next: Edit, duration: number): Result<Edit> => {
  const parsed = editSchema.safeParse(next);
  if (!parsed.success) return bad('edit', 'That does not fit together: parts left out may not overlap.');
  if (compileEdit(next, { duration }).length < LEAST) {
    return bad('nothing left', 'Hardly any music would be left. Leave out less.');
  }
  return good(next);
};

export function withStart(edit: Edit, start: number, duration: number): Result<Edit> {
  const from = recordTime(wholeMicros(Math.max(0, Math.min(start, duration))));
  const cuts = edit.cuts.filter((cut) => cut.from > from);
  return checked({ ...edit, start: from, cuts }, duration);
}

/** Leaves out a stretch from bar line to bar line, the join a little before them as in proposals; what it touches of other parts left out becomes one with it. */
export function withCut(edit: Edit, from: RecordTime, to: RecordTime, duration: number): Result<Edit> {
  if (to <= from) return bad('backwards', 'What is left out must end after it begins.');
  const touching = edit.cuts.filter((cut) => cut.from <= to && cut.to >= from);
  const wanted = seamBetween(from, to);
  const cut: Cut = {
    ...wanted,
    from: recordTime(Math.min(wanted.from, ...touching.map((c) => c.from))),
    to: recordTime(Math.max(wanted.to, ...touching.map((c) => c.to))),
  };
  const cuts = [...edit.cuts.filter((c) => !touching.includes(c)), cut].sort((a, b) => a.from - b.from);
  return checked({ ...edit, cuts }, duration);
}

export const withoutCut = (edit: Edit, index: number): Edit => ({
  ...edit,
  cuts: edit.cuts.filter((_, i) => i !== index),
});

export const withEnd = (edit: Edit, end: SongEnd, duration: number): Result<Edit> =>
  checked({ ...edit, end }, duration);

/** A fade as long as somebody types it, in seconds. */
export function withFadeLength(edit: Edit, typed: string, duration: number): Result<Edit> {
  const seconds = Number(typed.trim().replace(',', '.') || Number.NaN);
  if (edit.end.kind === 'own') return good(edit);
  if (!(seconds >= LEAST_FADE && seconds <= MOST_FADE))
    return bad(
      'fade',
      `A fade lasts from ${LEAST_FADE} to ${MOST_FADE} seconds: please give a length between them.`,
    );
  return withEnd(edit, { ...edit.end, length: wholeMicros(seconds) }, duration);
}

/** A fade to begin with: from the bar line by which it is gone nearest the length wanted. */
export function firstFade(
  edit: Edit,
  duration: number,
  wanted: number,
  places: readonly Pick<BarPlace, 'at'>[],
): SongEnd {
  const whole = compileEdit({ ...edit, end: { kind: 'own' } }, { duration });
  const gone = Math.min(wanted, whole.length);
  const from = whole.toRecord(floorTime(Math.max(0, gone - USUAL_FADE / edit.speed)));
  const line = places.reduce(
    (best, { at }) => (Math.abs(at - from) < Math.abs(best - from) ? at : best),
    places[0]?.at ?? from,
  );
  return { kind: 'fade', from: line, length: USUAL_FADE, shape: 'linear', byHand: false };
}

/** A place in the song as a person says it: "chorus 2, bar 3". */
export interface BarPlace {
  at: RecordTime;
  section: string;
  /** The same within a sentence: "the bridge". */
  called: string;
  /** From 1 within the section. */
  bar: number;
}

/** All bar lines with their section's name and number in it, and the very end of the recording. */
export function barPlaces(grid: Grid, sections: readonly Section[]): BarPlace[] {
  const ordered = inOrder(sections);
  const names = sectionNames(ordered);
  const firsts = ordered.map((section) => nearestBar(grid, section.start));
  return barTimes(grid).map((at, bar) => {
    const index = firsts.findLastIndex((first) => first <= bar);
    const section = ordered[index];
    return section
      ? {
          at,
          section: names.get(section.id)!,
          called: sectionWords({ kind: section.kind, name: names.get(section.id)! }),
          bar: bar - firsts[index]! + 1,
        }
      : { at, section: 'before the first section', called: 'the recording', bar: bar + 1 };
  });
}

/** Where a moment lies, in words: "chorus 2, bar 3" when it is within a beat of a bar line, else its clock. */
export function placeWords(places: readonly BarPlace[], at: number, beat: number): string {
  const near = places.reduce<BarPlace | null>(
    (best, place) => (best && Math.abs(best.at - at) <= Math.abs(place.at - at) ? best : place),
    null,
  );
  if (!near || Math.abs(near.at - at) > beat) return clock(at, 1);
  return near.bar === 1 ? `the beginning of ${near.called}` : `${near.section}, bar ${near.bar}`;
}

/** An edit in one sentence. */
export function editWords(edit: Edit, duration: number, places: readonly BarPlace[], beat: number): string {
  const words = (at: number) => placeWords(places, at, beat);
  const parts: string[] = [];
  if (edit.start > 0) parts.push(`begins at ${words(edit.start)}`);
  for (const cut of edit.cuts) {
    parts.push(`leaves out ${clock(cut.to - cut.from)} from ${words(cut.from)} to ${words(cut.to)}`);
  }
  if (edit.end.kind === 'own') parts.push('ends as the recording does');
  else {
    const hand = edit.end.byHand ? 'the DJ fades by hand' : 'fades';
    parts.push(`${hand} over ${Math.round(edit.end.length * 10) / 10} s from ${words(edit.end.from)}`);
  }
  if (edit.speed !== 1) parts.push(`plays at ${Math.round(edit.speed * 100)} % of its speed`);
  const all = parts.join('; ');
  const whole = edit.start === 0 && edit.cuts.length === 0 && edit.end.kind === 'own';
  const length = clock(compileEdit(edit, { duration }).length);
  return whole ? `The whole song, ${length}.` : `${length}: ${all}.`;
}

/** Why one edit has several lengths: its last sound is "as played", and the finished file has a silent second more. */
export function lengthWords(edit: Edit, duration: number, lastSound: number): string {
  const compiled = compileEdit(edit, { duration });
  const music = clock(musicEnd(edit, compiled, lastSound));
  const file = clock(compiled.length + SILENT_END);
  const quiet = music === clock(compiled.length) ? '' : `Music until ${music}, then quiet. `;
  return `${quiet}As a file ${file}, with a silent second.`;
}

/** A stretch of the song as played that is worth hearing, to judge by. */
export interface Hearing {
  key: string;
  /** `the join` */
  words: string;
  from: number;
  to: number;
}

/** Seconds a bar, as most are; of no grid, as in a song of four beats at a hundred a minute. */
export function usualBar(grid: Pick<Grid, 'beats' | 'beatsPerBar'> | null): number {
  return usualBeat(grid) * (grid?.beatsPerBar ?? 4);
}

export function usualBeat(grid: Pick<Grid, 'beats'> | null): number {
  const beats = grid?.beats ?? [];
  return beats.length > 1 ? median(beats.slice(1).map((at, i) => at - beats[i]!)) : 0.6;
}

/** Floor stretches worth hearing: from four bars before each seam or fade to four bars after a seam, or a fade's end. */
export function hearings(edit: Edit, duration: number, bar: number): Hearing[] {
  const compiled = compileEdit(edit, { duration });
  const { length, spans } = compiled;
  const four = (4 * bar) / edit.speed;
  const around = (from: number, to: number) => ({
    from: Math.max(0, from - four),
    to: Math.min(length, to),
  });
  const joins = spans.slice(1).map((span, i) => ({
    key: `join ${i}`,
    words: spans.length > 2 ? `join ${i + 1}` : 'the join',
    ...around(span.floor, span.floor + four),
  }));
  const { end } = edit;
  if (end.kind === 'own') return joins;
  return [...joins, { key: 'fade', words: 'the fade', ...around(length - end.length / edit.speed, length) }];
}
