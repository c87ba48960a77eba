import { mean } from '../signal/statistics.ts';
import { Fold } from './fold.ts';
import { type Likeness, LONGEST_ON, STRANDS } from './likeness.ts';
import type { PulseView } from './pulseView.ts';

/** One way to hear the song: where the beats are, how each is divided, how many make a bar and which opens one. */
export interface Hypothesis {
  /** Index of its pulse among those tracked. */
  pulse: number;
  beatsPerBar: 2 | 3 | 4;
  subdivision: 2 | 3;
  /** Index of the first beat that opens a bar, below beatsPerBar. */
  firstBar: number;
  /** In the order of EVIDENCE. */
  evidence: Float64Array;
}

/** Beats on, in bars, at which the music is compared with itself. */
const BARS_ON = [1 / 2, 1, 3 / 2, 2, 3, 4, 8] as const;

/** What is weighed; each is explained where it is computed. */
// biome-ignore format: a list of names
export const EVIDENCE = [
  'two', 'three', 'four', 'six8', 'nine8', 'twelve8',
  'fastSimple', 'farSimple', 'fastCompound', 'farCompound', 'fastThree', 'farThree', 'longBar', 'farBar',
  'onBeat', 'covered', 'rise', 'lowRise', 'highRise', 'divided', 'dividedOften', 'quartered', 'harmonyOnBeat', 'explained',
  'evenHalf', 'swungHalf', 'tripletLate', 'tripletEarly',
  'barHarmony', 'barHarmonyWide', 'barLow', 'barOnset', 'barHigh', 'midHarmony', 'backbeat', 'strongBeat', 'midLow',
  'pattern', 'patternHalf', 'harmonyPattern', 'harmonyFill', 'harmonyTwice', 'fillTwice',
  'onset2', 'onset3', 'onset4', 'low2', 'low3', 'low4', 'high2', 'high3', 'high4', 'wide2', 'wide3', 'wide4',
  'turnBar', 'turn2', 'turn4', 'turn8', 'harmony4', 'harmony8', 'crash4', 'crash8', 'phraseRest',
  ...STRANDS.flatMap((strand) => [`${strand}NextBeat`, ...BARS_ON.map((n) => `${strand}After${n}`)]),
];

/** Correlation of a list with itself `lag` places on. */
function repeats(values: Float64Array, lag: number): number {
  const middle = mean(values);
  let across = 0;
  let whole = 1e-9;
  for (let i = 0; i < values.length; i++) {
    whole += (values[i]! - middle) ** 2 / values.length;
    if (i >= lag) across += ((values[i]! - middle) * (values[i - lag]! - middle)) / (values.length - lag);
  }
  return values.length <= lag ? 0 : across / whole;
}

/** Every metre upon one pulse, with its evidence. */
export function hypothesesOn(view: PulseView, likeness: Likeness, pulse: number): Hypothesis[] {
  const onRhythm = (lag: number): number =>
    (repeats(view.onset, lag) + repeats(view.low, lag) + repeats(view.high, lag)) / 3;
  const seen: Seen = {
    view,
    onset: new Fold(view.onset),
    low: new Fold(view.low),
    high: new Fold(view.high),
    harmony: new Fold(view.harmony),
    wide: new Fold(view.wide),
    turns: new Fold(view.turns),
    repeated: [2, 3, 4, 6, 8].map(onRhythm),
    harmonyRepeated: [2, 3, 4].map((lag) => repeats(view.harmony, lag)),
  };
  const out: Hypothesis[] = [];
  for (const beatsPerBar of [2, 3, 4] as const) {
    const alike = likenessOver(likeness, beatsPerBar);
    const ofBars = Array.from({ length: beatsPerBar }, (_, first) => barEvidence(seen, beatsPerBar, first));
    for (const subdivision of [2, 3] as const) {
      const ofMetre = metreEvidence(view.period, beatsPerBar, subdivision);
      const ofBeat = beatEvidence(seen, subdivision);
      for (let firstBar = 0; firstBar < beatsPerBar; firstBar++) {
        const evidence = new Float64Array(EVIDENCE.length);
        let at = 0;
        for (const part of [ofMetre, ofBeat, ofBars[firstBar]!, alike]) {
          evidence.set(part, at);
          at += part.length;
        }
        out.push({ pulse, beatsPerBar, subdivision, firstBar, evidence });
      }
    }
  }
  return out;
}

interface Seen {
  view: PulseView;
  onset: Fold;
  low: Fold;
  high: Fold;
  harmony: Fold;
  wide: Fold;
  turns: Fold;
  repeated: number[];
  harmonyRepeated: number[];
}

/** Written down one after the other; as doubles from the start, or the engine compiles for whole numbers first and again for others. */
class Row {
  private readonly values = new Float64Array(EVIDENCE.length);
  private length = 0;

  put(value: number): void {
    this.values[this.length++] = value;
  }

  end(): Float64Array {
    return this.values.subarray(0, this.length);
  }
}

/** Which of the six metres it is, and how fast its beats and bars are. */
function metreEvidence(period: number, beatsPerBar: 2 | 3 | 4, subdivision: 2 | 3): Float64Array {
  const row = new Row();
  const place = (subdivision === 2 ? 0 : 3) + beatsPerBar - 2;
  for (let i = 0; i < 6; i++) row.put(i === place ? 1 : 0);
  const fast = Math.log2(0.55 / period);
  for (const applies of [subdivision === 2, subdivision === 3, beatsPerBar === 3]) {
    row.put(applies ? fast : 0);
    row.put(applies ? fast * fast : 0);
  }
  const bar = Math.log2((period * beatsPerBar) / 2);
  row.put(bar);
  row.put(bar * bar);
  return row.end();
}

function likenessOver(likeness: Likeness, beatsPerBar: number): Float64Array {
  const row = new Row();
  for (const strand of STRANDS) {
    row.put(likeness[strand][1]!);
    for (const n of BARS_ON) row.put(between(likeness[strand], n * beatsPerBar));
  }
  return row.end();
}

/** Between the whole beats to either side. */
function between(values: Float64Array, at: number): number {
  const whole = Math.min(LONGEST_ON, Math.floor(at));
  const next = Math.min(LONGEST_ON, Math.ceil(at));
  return values[whole]! + (at - Math.floor(at)) * (values[next]! - values[whole]!);
}

function beatEvidence({ view, onset, low, high, harmony }: Seen, subdivision: 2 | 3): Float64Array {
  const row = new Row();
  const parts = subdivision === 2 ? view.half : view.thirds;
  const wrongParts = subdivision === 2 ? view.thirds : view.half;
  const lowParts = subdivision === 2 ? view.lowHalf : view.lowThirds;
  const highParts = subdivision === 2 ? view.highHalf : view.highThirds;
  const harmonyParts = subdivision === 2 ? view.harmonyHalf : view.harmonyThirds;
  row.put(onset.all);
  row.put(view.covered);
  row.put(onset.all - parts);
  row.put(low.all - lowParts);
  row.put(high.all - highParts);
  row.put(parts - wrongParts);
  row.put(subdivision === 3 ? view.threes : -view.threes);
  row.put(view.quarters - parts);
  row.put((harmony.all - harmonyParts) / (harmony.deviation + 0.02));
  // Onset gathered a second by beats and their parts: a level too slow leaves much unexplained.
  row.put((onset.all + (subdivision - 1) * parts) / subdivision);
  // Where between the beats the onsets lie, finely: a swung half is not a third.
  for (const onsets of view.fine) row.put(onsets);
  return row.end();
}

function barEvidence(seen: Seen, bar: 2 | 3 | 4, first: number): Float64Array {
  const { onset, low, high, harmony, wide, repeated, harmonyRepeated } = seen;
  const row = new Row();
  const rhythm = { 2: 0, 3: 1, 4: 2 }[bar];
  const ones = harmony.mean(bar, first);
  for (const fold of [harmony, wide, low, onset, high]) row.put(fold.standsOut(bar, first));
  row.put(bar === 4 ? (harmony.mean(4, first + 2) - ones) / (harmony.deviation + 0.02) : 0);
  row.put(bar === 3 ? 0 : -high.standsOut(2, first));
  row.put(bar === 3 ? 0 : onset.standsOut(2, first));
  row.put(bar === 4 ? (low.mean(4, first) - low.mean(4, first + 2)) / (low.deviation + 1e-6) : 0);
  row.put(repeated[rhythm]! - againstOf(repeated, bar));
  // Half of the bar, or of two bars, repeats as well as the whole.
  const half = {
    2: repeated[0]! - repeated[2]!,
    3: repeated[1]! - repeated[3]!,
    4: repeated[2]! - repeated[0]!,
  };
  row.put(half[bar]);
  row.put(harmonyRepeated[rhythm]! - againstOf(harmonyRepeated, bar));
  // How much of a typical bar line's change there is, absolutely: bars too short have lines without one.
  row.put(ones / (harmony.all + 0.02));
  // The same of every second bar line, the better of the two: bars that are half of the true ones change at every second line only.
  row.put(outstanding(wide, bar, first, 2));
  row.put(Math.abs(wide.mean(2 * bar, first) - wide.mean(2 * bar, first + bar)) / (wide.deviation + 0.02));
  for (const fold of [onset, low, high, wide])
    for (let n = 1; n <= 3; n++) row.put(n >= bar ? 0 : fold.standsOut(bar, first + n));
  for (const bars of [1, 2, 4, 8]) row.put(turnsAt(seen, bar, first, bars));
  for (const fold of [wide, high]) for (const bars of [4, 8]) row.put(outstanding(fold, bar, first, bars));
  row.put(phraseRest(onset, bar, first));
  return row.end();
}

/** The best correlation at another bar's length; twos and fours repeat each other and are not compared. */
function againstOf(repeated: readonly number[], bar: 2 | 3 | 4): number {
  if (bar === 3) return Math.max(repeated[0]!, repeated[2]!);
  return repeated[1]!;
}

/**
 * Songs turn at bar lines, and mostly at every 2nd, 4th or 8th of them: the share of turns that fall on every so manyth line, the
 * best of these, less chance.
 */
function turnsAt({ turns }: Seen, bar: number, first: number, bars: number): number {
  let best = 0;
  for (let k = 0; k < bars; k++) best = Math.max(best, turns.mean(bar * bars, first + k * bar));
  return turns.all === 0 ? 0 : (best / turns.all - 1) / (bar * bars);
}

/** How far the most outstanding of every so manyth bar line stands out. */
function outstanding(fold: Fold, bar: number, first: number, bars: number): number {
  let best = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < bars; k++) best = Math.max(best, fold.standsOut(bar * bars, first + k * bar));
  return best;
}

/** Phrases rest at their end: how much quieter the last beats of one bar in four are than the first beats of one in four. */
function phraseRest(onset: Fold, bar: number, first: number): number {
  const half = Math.floor(bar / 2);
  const [opening, closing] = [
    quietest(onset, bar, first, half),
    quietest(onset, bar, first + bar - half, half),
  ];
  return (opening - closing) / (onset.deviation + 1e-6);
}

/** The least mean of so many beats from the same place in one bar of four. */
function quietest(onset: Fold, bar: number, first: number, beats: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 4; k++) {
    let sum = 0;
    for (let j = 0; j < beats; j++) sum += onset.mean(4 * bar, first + k * bar + j);
    least = Math.min(least, sum / beats);
  }
  return least;
}
