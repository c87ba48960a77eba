import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { barLines } from './barLines.ts';
import { heardBeats, playedBeats } from './beats.ts';
import { countLevelsOf } from './correct.ts';
import type { Correction } from './evidence.ts';
import { type Followed, follow, settled } from './follow.ts';
import { byNobody, type Grid } from './grid.ts';
import { handFit } from './hand.ts';
import { type Hearable, paceAlong, type Reading, readingsOf, stopsOf } from './readings.ts';
import { nearest, range } from './stretches.ts';

/** The song as it is heard with everything that people said of it. */
export interface HeardAgain {
  grid: Grid;
  /** All ways that the music and what was said bear, best first. */
  readings: Reading[];
  /** Seconds by which a hand was late, one for each correction; 0 of what was not pressed. */
  late: number[];
}

/** Documents hold at most so many beats. */
const MOST_BEATS = 8000;

/**
 * Hears the beats and bars of a recording again, with all that was said: the way to hear it that music and people together speak for
 * most, followed from beat to beat in the audio, through what was tapped, silent where somebody stopped the counts, and waiting where
 * the music waits. What nobody spoke of stays as the music has it; nowhere is a grid laid out evenly.
 * @param lastSound seconds, after which there are no counts
 * @param grid as it was, of which what the dancers count is kept; null where there was none
 * @returns null where no beat can be heard even so; the grid is confirmed by nobody
 */
export function hearAgain(
  song: Hearable,
  lastSound: number,
  grid: Grid | null,
  said: readonly Correction[],
): HeardAgain | null {
  const readings = readingsOf(song, said, grid);
  for (const [n, best] of readings.slice(0, TRIED).entries()) {
    const made = gridAs(best, song, lastSound, grid, said);
    // A reading whose beats are not to be heard was none.
    if (made) return { ...made, readings: readings.slice(n) };
  }
  return null;
}

/** Readings that are tried until one has beats that are heard. */
const TRIED = 4;

function gridAs(
  best: Reading,
  song: Hearable,
  lastSound: number,
  grid: Grid | null,
  said: readonly Correction[],
): Omit<HeardAgain, 'readings'> | null {
  const late = said.map((one) => lateOf(best, one));
  const taps = said.flatMap(({ kind, times }, i) => (kind === 'beats' ? times.map((t) => t - late[i]!) : []));
  const followed = follow(song.activations, {
    pace: paceAlong(best.beats),
    play: best.play,
    beats: taps.sort((a, b) => a - b),
    hints: best.beats,
    silent: stopsOf(said),
  });
  const { beats, waits } = sounding(song, followed, taps, lastSound);
  if (beats.length < 2 || beats.length > MOST_BEATS) return null;
  const marks = said.flatMap((one, i) => barMarks(one, late[i]!));
  const bars = barLines(song, beats, waits, best, marks);
  const { beatsPerBar, subdivision } = best;
  const times = ascending(beats);
  const level = grid?.countLevel ?? 'beat';
  const made: Grid = {
    beats: times,
    bars,
    beatsPerBar,
    subdivision,
    countLevel: countLevelsOf({ beatsPerBar, subdivision }).includes(level) ? level : 'beat',
    confirmedBy: grid?.confirmedBy ?? byNobody,
    ...(waits.length > 0 && { waits: waits.map((i) => times[i]!) }),
    ...heldOf(times, taps, marks),
  };
  return { grid: made, late };
}

function lateOf({ beats, beatsPerBar, firstBar }: Reading, one: Correction): number {
  if (!one.byHand) return 0;
  const bars = beats.filter((_, i) => i % beatsPerBar === firstBar);
  return handFit(one.times, one.kind === 'bars' ? bars : beats, one.sure, true).late;
}

/** Moments that a person said to be a one. */
function barMarks({ kind, times, fromOne }: Correction, late: number): number[] {
  if (kind === 'bars') return times.map((t) => t - late);
  return kind === 'beats' && fromOne ? [times[0]! - late] : [];
}

/** The followed beats at the times they sound at, as far as music is heard there or somebody tapped. */
function sounding(
  { scene: { frames }, activations }: Hearable,
  followed: Followed,
  taps: readonly number[],
  lastSound: number,
): Followed {
  const beats = settled(activations, followed);
  const heard = new Set(heardBeats(frames, beats).filter((i) => beats[i]! <= lastSound));
  const ofMusic = [...heard].sort((a, b) => a - b);
  const played = ofMusic.slice(
    0,
    playedBeats(
      frames,
      ofMusic.map((i) => beats[i]!),
    ),
  );
  const kept = new Set(played);
  for (const t of taps) kept.add(nearest(beats, t));
  const indices = [...kept].sort((a, b) => a - b);
  const ends = new Set(followed.waits);
  return {
    beats: indices.map((i) => beats[i]!),
    // What lies between two kept beats was a wait, or is one now.
    waits: indices.flatMap((from, place) => {
      const to = indices[place + 1];
      if (to === undefined) return [];
      return to > from + 1 || range(from, to).some((i) => ends.has(i)) ? [place] : [];
    }),
  };
}

function ascending(beats: readonly number[]): RecordTime[] {
  const out: RecordTime[] = [];
  for (const t of beats) {
    const least = out.length === 0 ? 0 : out.at(-1)! + 1e-3;
    out.push(recordTime(wholeMicros(Math.max(least, t))));
  }
  return out;
}

/** What was pointed at, on the beats it means. */
function heldOf(
  beats: readonly RecordTime[],
  taps: readonly number[],
  marks: readonly number[],
): Partial<Grid> {
  if (taps.length === 0 && marks.length === 0) return {};
  const on = (times: readonly number[], most: number): RecordTime[] =>
    [...new Set(times.map((t) => beats[nearest(beats, t)]!))].sort((a, b) => a - b).slice(0, most);
  return { held: { bars: on(marks, 500), beats: on(taps, 2000) } };
}
