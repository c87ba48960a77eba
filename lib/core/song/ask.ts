import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { SURE } from './confirmed.ts';
import type { Metre } from './evidence.ts';
import type { Reading } from './readings.ts';
import { nearest } from './stretches.ts';

/** A way to count the song, to be chosen. */
export interface Choice extends Metre {
  /** Beats a minute. */
  tempo: number;
  /** 0 to 1. */
  odds: number;
}

/** The one question whose answer settles most: whether a moment is a one, or which of these ways the song is counted. */
export type Question = { about: 'one'; at: RecordTime } | { about: 'count'; choices: Choice[] };

/** A way with smaller odds is not offered. */
const OFFERED = 0.02;
const SAME_TEMPO = Math.log(1.06);
/** Where of the song it is asked: after its beginning, before its end. */
const FROM = 0.2;
const TO = 0.8;

/** Metres and levels that the song bears, best first; ways that differ in where bars begin count as one. */
export function choicesOf(readings: readonly Reading[]): Choice[] {
  const choices: Choice[] = [];
  for (const { beatsPerBar, subdivision, tempo, odds } of readings) {
    const same = choices.find(
      (one) =>
        one.beatsPerBar === beatsPerBar &&
        one.subdivision === subdivision &&
        Math.abs(Math.log(one.tempo / tempo)) < SAME_TEMPO,
    );
    if (same) same.odds += odds;
    else choices.push({ beatsPerBar, subdivision, tempo, odds });
  }
  return choices.filter(({ odds }, i) => i === 0 || odds >= OFFERED).sort((a, b) => b.odds - a.odds);
}

/**
 * The question that is expected to take away most doubt: its information is the entropy of its answer, since the readings answer it
 * without error (Shannon 1948). Null where one reading is sure enough.
 */
export function questionOf(readings: readonly Reading[]): Question | null {
  const best = readings[0];
  if (!best || best.odds >= SURE) return null;
  const choices = choicesOf(readings);
  const doubt = entropy(choices.map(({ odds }) => odds));
  const lines = readings.map(({ beats, beatsPerBar, firstBar }) =>
    beats.filter((_, i) => i % beatsPerBar === firstBar),
  );
  const own = lines[0]!;
  let [most, at] = [0, own[0] ?? 0];
  for (const line of own.slice(Math.floor(FROM * own.length), Math.ceil(TO * own.length))) {
    const yes = readings.reduce((sum, { odds }, i) => {
      const there = lines[i]!;
      return sum + (Math.abs((there[nearest(there, line)] ?? -1) - line) < 0.07 ? odds : 0);
    }, 0);
    const told = entropy([yes, Math.max(0, 1 - yes)]);
    if (told > most + 1e-6) [most, at] = [told, line];
  }
  return doubt > most && choices.length > 1
    ? { about: 'count', choices }
    : { about: 'one', at: recordTime(wholeMicros(Math.max(0, at))) };
}

/** Bits. */
const entropy = (shares: readonly number[]): number =>
  shares.reduce((sum, p) => sum - (p > 0 ? p * Math.log2(p) : 0), 0);
