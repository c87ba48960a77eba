import { median } from '../signal/statistics.ts';
import { chainOf, type Hearable, type Reading } from './readings.ts';
import { nearest } from './stretches.ts';

/** Bars that are listened to together, for where they begin. */
const TOGETHER = 8;
/** Log odds that a whole reading's own bar lines weigh beside what is heard bar by bar. */
const AS_READ = 3;
/**
 * Log odds against a bar with a beat more or fewer: anywhere, where a beat is much longer than those about it, and after a wait.
 */
const ODD_BAR = { anywhere: 25, slow: 4, waited: 1.5 };
/** The weights are odds for a whole song; eight bars of it tell so much of that, in eight bars' time. */
const WEIGHT = 1;
/** A beat so many times as long as those about it is slow. */
const SLOW = 1.25;
/** Log odds against a bar line elsewhere than where somebody said. */
const SAID = 60;

/**
 * Which beats open bars: Viterbi over the place in the bar, as in the bar-pointer model (Whiteley, Cemgil and Godsill 2006), each beat
 * with the odds that the eight bars about it give each place. A bar may have a beat more or fewer where the music says so clearly:
 * after a held note, a stop, or a bar that somebody wrote shorter.
 * @param beats ascending seconds @param waits indices of beats after which the counts wait
 * @param said moments at which people say that a bar begins
 * @returns indices into `beats`, ascending
 */
export function barLines(
  song: Hearable,
  beats: readonly number[],
  waits: readonly number[],
  reading: Reading,
  said: readonly number[],
): number[] {
  const { beatsPerBar: places } = reading;
  const cost = oddBarCosts(beats, waits);
  const heard = placeOdds(song, beats, reading);
  const marks = [...new Set(said.map((t) => nearest(beats, t)))].sort((a, b) => a - b);
  const odds = marks.length === 0 ? heard : asSaid(heard, placesOf(heard, places, cost), places, marks);
  return placesOf(odds, places, cost).flatMap((place, i) => (place === 0 ? [i] : []));
}

/**
 * The odds turned so that what the program hears as a one is what people say is one: who is told that the one is elsewhere was mostly
 * wrong about all of the song, not about that bar.
 */
function asSaid(
  heard: Float64Array,
  before: readonly number[],
  places: number,
  marks: readonly number[],
): Float64Array {
  const odds = new Float64Array(heard.length);
  before.forEach((_, i) => {
    const turn = before[marks[nearest(marks, i)]!]!;
    for (let s = 0; s < places; s++) odds[i * places + s] = heard[i * places + ((s + turn) % places)]!;
  });
  for (const i of marks) odds[i * places]! += SAID;
  return odds;
}

/** The likeliest place in the bar of each beat, from 0. */
function placesOf(odds: Float64Array, places: number, cost: Float64Array): number[] {
  const count = cost.length;
  const score = new Float64Array(count * places);
  const from = new Int8Array(count * places);
  for (let s = 0; s < places; s++) score[s] = odds[s]!;
  for (let i = 1; i < count; i++) {
    for (let s = 0; s < places; s++) {
      const before = (s + places - 1) % places;
      let best = score[(i - 1) * places + before]!;
      let via = before;
      // A beat more stays at its place, fewer open the next bar early.
      for (let p = 0; p < places; p++) {
        if (p === before || (s !== 0 && s !== p)) continue;
        const other = score[(i - 1) * places + p]! - cost[i]!;
        if (other > best) [best, via] = [other, p];
      }
      score[i * places + s] = best + odds[i * places + s]!;
      from[i * places + s] = via;
    }
  }
  let s = 0;
  for (let p = 1; p < places; p++) {
    if (score[(count - 1) * places + p]! > score[(count - 1) * places + s]!) s = p;
  }
  const out = new Array<number>(count);
  for (let i = count - 1; i >= 0; i--) {
    out[i] = s;
    s = from[i * places + s]!;
  }
  return out;
}

/** Cost of an odd bar between each beat and the one before it. */
function oddBarCosts(beats: readonly number[], waits: readonly number[]): Float64Array {
  const steps = beats.slice(1).map((t, i) => t - beats[i]!);
  const waiting = new Set(waits);
  return Float64Array.from(beats, (_, i) => {
    if (i === 0) return 0;
    if (waiting.has(i - 1)) return ODD_BAR.waited;
    const usual = median(steps.slice(Math.max(0, i - 5), i + 4));
    const near = Math.max(...steps.slice(Math.max(0, i - 4), i + 2));
    return near > SLOW * usual ? ODD_BAR.slow : ODD_BAR.anywhere;
  });
}

/** For each beat and place in the bar the log odds by the bars about it; each bar counts once in all. */
function placeOdds(song: Hearable, beats: readonly number[], reading: Reading): Float64Array {
  const { beatsPerBar: places, subdivision, play, firstBar: opening } = reading;
  const odds = new Float64Array(beats.length * places);
  const lines = reading.beats.filter((_, i) => i % places === opening);
  for (const line of lines) {
    const i = nearest(beats, line);
    if (Math.abs(beats[i]! - line) < 0.1) odds[i * places]! += AS_READ / lines.length;
  }
  const width = TOGETHER * places;
  for (let at = 0; at < beats.length; at += places) {
    const from = Math.max(0, Math.min(beats.length - width, at - width / 2));
    const [around] = chainOf(song.scene, beats.slice(from, from + width), play);
    if (!around) continue;
    for (const { metre, firstBar, score } of around.heard) {
      if (metre.beatsPerBar !== places || metre.subdivision !== subdivision) continue;
      const line = from + firstBar + places * Math.round((at - from - firstBar) / places);
      for (let i = Math.max(at, 0); i < Math.min(beats.length, at + places); i++) {
        const s = (((i - line) % places) + places) % places;
        odds[i * places + s]! += (WEIGHT * score) / (TOGETHER * places);
      }
    }
  }
  return odds;
}
