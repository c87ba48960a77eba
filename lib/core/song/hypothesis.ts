import { mean } from '../signal/statistics.ts';
import { Fold } from './fold.ts';
import { type Likeness, LONGEST_ON, STRANDS } from './likeness.ts';
import type { NetCurves } from './net/curves.ts';
import type { PulseView } from './pulseView.ts';

/** One way to hear the song: where the beats are, how each is divided, how many make a bar and which opens one. */
export interface Hypothesis {
  /** Index of its pulse among those tracked. */
  pulse: number;
  beatsPerBar: 2 | 3 | 4;
  subdivision: 2 | 3;
  /** Index of the first beat that opens a bar, below beatsPerBar. */
  firstBar: number;
  /** A value for each name of EVIDENCE, in that order; written by name (`write`). */
  evidence: Float64Array;
}

/** Beats on, in bars, at which the music is compared with itself. */
const BARS_ON = [1 / 2, 1, 3 / 2, 2, 3, 4, 8] as const;

/** What is weighed; each is explained where it is computed. */
// biome-ignore format: lists of names
const OF_METRE = [
  'two', 'three', 'four', 'six8', 'nine8', 'twelve8',
  'fastSimple', 'farSimple', 'fastCompound', 'farCompound', 'fastThree', 'farThree', 'longBar', 'farBar',
  'netThree', 'netMetre', 'netBeats',
] as const;
// biome-ignore format: lists of names
const OF_BEAT = [
  'onBeat', 'covered', 'rise', 'lowRise', 'highRise', 'divided', 'dividedOften', 'quartered', 'harmonyOnBeat', 'explained',
  'evenHalf', 'swungHalf', 'tripletLate', 'tripletEarly', 'uneven',
  'netOnBeat', 'netGain', 'netParts', 'netOtherParts',
] as const;
// biome-ignore format: lists of names
const OF_BAR = [
  'barHarmony', 'barHarmonyWide', 'barLow', 'barOnset', 'barHigh', 'midHarmony', 'backbeat', 'strongBeat', 'midLow',
  'pattern', 'patternHalf', 'harmonyPattern', 'harmonyFill', 'harmonyTwice', 'fillTwice',
  'onset2', 'onset3', 'onset4', 'low2', 'low3', 'low4', 'high2', 'high3', 'high4', 'wide2', 'wide3', 'wide4',
  'turnBar', 'turn2', 'turn4', 'turn8', 'harmony4', 'harmony8', 'crash4', 'crash8', 'phraseRest',
  'netBar', 'netBarGain', 'netInBar', 'netOtherBar',
] as const;
type Likenesses = `${(typeof STRANDS)[number]}${'NextBeat' | `After${(typeof BARS_ON)[number]}`}`;
const OF_LIKENESS = STRANDS.flatMap((strand): Likenesses[] => [
  `${strand}NextBeat`,
  ...BARS_ON.map((n): Likenesses => `${strand}After${n}`),
]);
export const EVIDENCE: readonly string[] = [...OF_METRE, ...OF_BEAT, ...OF_BAR, ...OF_LIKENESS];

/** Evidence by name. A name that is missing, or one too many, is a fault that the compiler tells. */
type Named<Name extends string> = Record<Name, number>;

/** Writes named values to their places; `from` is where the list of names begins in EVIDENCE. */
function write<Name extends string>(
  evidence: Float64Array,
  from: number,
  names: readonly Name[],
  values: Named<Name>,
): number {
  for (let i = 0; i < names.length; i++) evidence[from + i] = values[names[i]!];
  return from + names.length;
}

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
    netBars: new Fold(view.net.bars),
  };
  const out: Hypothesis[] = [];
  for (const beatsPerBar of [2, 3, 4] as const) {
    const alike = likenessOver(likeness, beatsPerBar);
    const ofBars = Array.from({ length: beatsPerBar }, (_, first) => barEvidence(seen, beatsPerBar, first));
    for (const subdivision of [2, 3] as const) {
      const ofMetre = metreEvidence(view.period, view.net.song, beatsPerBar, subdivision);
      const ofBeat = beatEvidence(seen, subdivision);
      for (let firstBar = 0; firstBar < beatsPerBar; firstBar++) {
        const evidence = new Float64Array(EVIDENCE.length);
        let at = write(evidence, 0, OF_METRE, ofMetre);
        at = write(evidence, at, OF_BEAT, ofBeat);
        at = write(evidence, at, OF_BAR, ofBars[firstBar]!);
        write(evidence, at, OF_LIKENESS, alike);
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
  netBars: Fold;
}

/** Log odds of the learned ear are divided by this, so that they are about as large as all else. */
const NET = 3;

/** Which of the six metres it is, how fast its beats and bars are, and how the learned ear counts the song as a whole. */
function metreEvidence(
  period: number,
  net: NetCurves,
  beatsPerBar: 2 | 3 | 4,
  subdivision: 2 | 3,
): Named<(typeof OF_METRE)[number]> {
  const is = (beats: number, parts: number): number => Number(beatsPerBar === beats && subdivision === parts);
  const fast = Math.log2(0.55 / period);
  const [simple, compound, three] = [subdivision === 2, subdivision === 3, beatsPerBar === 3].map(Number);
  const bar = Math.log2((period * beatsPerBar) / 2);
  const ofParts = (parts: 2 | 3): number => net.metre[`${beatsPerBar}/${parts}`];
  return {
    two: is(2, 2),
    three: is(3, 2),
    four: is(4, 2),
    six8: is(2, 3),
    nine8: is(3, 3),
    twelve8: is(4, 3),
    fastSimple: simple! * fast,
    farSimple: simple! * fast * fast,
    fastCompound: compound! * fast,
    farCompound: compound! * fast * fast,
    fastThree: three! * fast,
    farThree: three! * fast * fast,
    longBar: bar,
    farBar: bar * bar,
    netThree: (subdivision === 3 ? net.three : -net.three) / NET,
    netMetre: ofParts(subdivision) / NET,
    netBeats: Math.log(Math.exp(ofParts(2)) + Math.exp(ofParts(3))) / NET,
  };
}

function likenessOver(likeness: Likeness, beatsPerBar: number): Named<Likenesses> {
  const values: Partial<Named<Likenesses>> = {};
  for (const strand of STRANDS) {
    values[`${strand}NextBeat`] = likeness[strand][1]!;
    for (const n of BARS_ON) values[`${strand}After${n}`] = between(likeness[strand], n * beatsPerBar);
  }
  return values as Named<Likenesses>;
}

/** Between the whole beats to either side. */
function between(values: Float64Array, at: number): number {
  const whole = Math.min(LONGEST_ON, Math.floor(at));
  const next = Math.min(LONGEST_ON, Math.ceil(at));
  return values[whole]! + (at - Math.floor(at)) * (values[next]! - values[whole]!);
}

function beatEvidence(
  { view, onset, low, high, harmony }: Seen,
  subdivision: 2 | 3,
): Named<(typeof OF_BEAT)[number]> {
  const parts = subdivision === 2 ? view.half : view.thirds;
  const wrongParts = subdivision === 2 ? view.thirds : view.half;
  const lowParts = subdivision === 2 ? view.lowHalf : view.lowThirds;
  const highParts = subdivision === 2 ? view.highHalf : view.highThirds;
  const harmonyParts = subdivision === 2 ? view.harmonyHalf : view.harmonyThirds;
  const { half, thirds } = view.net;
  const onBeat = mean(view.net.beats);
  return {
    onBeat: onset.all,
    covered: view.covered,
    rise: onset.all - parts,
    lowRise: low.all - lowParts,
    highRise: high.all - highParts,
    divided: parts - wrongParts,
    dividedOften: subdivision === 3 ? view.threes : -view.threes,
    quartered: view.quarters - parts,
    harmonyOnBeat: (harmony.all - harmonyParts) / (harmony.deviation + 0.02),
    // Onset gathered a second by beats and their parts: a level too slow leaves much unexplained.
    explained: (onset.all + (subdivision - 1) * parts) / subdivision,
    // Where between the beats the onsets lie, finely: a swung half is not a third.
    evenHalf: view.fine[0]!,
    swungHalf: view.fine[1]!,
    tripletLate: view.fine[2]!,
    tripletEarly: view.fine[3]!,
    uneven: view.uneven,
    netOnBeat: onBeat / NET,
    // Log odds gathered a second: a beat too many takes off, a beat left out is missing.
    netGain: onBeat / view.period / NET,
    netParts: (subdivision === 2 ? half : thirds) / NET,
    netOtherParts: (subdivision === 2 ? thirds : half) / NET,
  };
}

function barEvidence(seen: Seen, bar: 2 | 3 | 4, first: number): Named<(typeof OF_BAR)[number]> {
  const { onset, low, high, harmony, wide, repeated, harmonyRepeated, netBars } = seen;
  const rhythm = { 2: 0, 3: 1, 4: 2 }[bar];
  const ones = harmony.mean(bar, first);
  const half = {
    2: repeated[0]! - repeated[2]!,
    3: repeated[1]! - repeated[3]!,
    4: repeated[2]! - repeated[0]!,
  };
  const inBar = (fold: Fold, n: number): number => (n >= bar ? 0 : fold.standsOut(bar, first + n));
  const netBar = netBars.mean(bar, first);
  let netOther = Number.NEGATIVE_INFINITY;
  for (let n = 1; n < bar; n++) netOther = Math.max(netOther, netBars.mean(bar, first + n));
  return {
    barHarmony: harmony.standsOut(bar, first),
    barHarmonyWide: wide.standsOut(bar, first),
    barLow: low.standsOut(bar, first),
    barOnset: onset.standsOut(bar, first),
    barHigh: high.standsOut(bar, first),
    midHarmony: bar === 4 ? (harmony.mean(4, first + 2) - ones) / (harmony.deviation + 0.02) : 0,
    backbeat: bar === 3 ? 0 : -high.standsOut(2, first),
    strongBeat: bar === 3 ? 0 : onset.standsOut(2, first),
    midLow: bar === 4 ? (low.mean(4, first) - low.mean(4, first + 2)) / (low.deviation + 1e-6) : 0,
    pattern: repeated[rhythm]! - againstOf(repeated, bar),
    // Half of the bar, or of two bars, repeats as well as the whole.
    patternHalf: half[bar],
    harmonyPattern: harmonyRepeated[rhythm]! - againstOf(harmonyRepeated, bar),
    // How much of a typical bar line's change there is, absolutely: bars too short have lines without one.
    harmonyFill: ones / (harmony.all + 0.02),
    // The same of every second bar line, the better of the two: bars that are half of the true ones change at every second line only.
    harmonyTwice: outstanding(wide, bar, first, 2),
    fillTwice:
      Math.abs(wide.mean(2 * bar, first) - wide.mean(2 * bar, first + bar)) / (wide.deviation + 0.02),
    onset2: inBar(onset, 1),
    onset3: inBar(onset, 2),
    onset4: inBar(onset, 3),
    low2: inBar(low, 1),
    low3: inBar(low, 2),
    low4: inBar(low, 3),
    high2: inBar(high, 1),
    high3: inBar(high, 2),
    high4: inBar(high, 3),
    wide2: inBar(wide, 1),
    wide3: inBar(wide, 2),
    wide4: inBar(wide, 3),
    turnBar: turnsAt(seen, bar, first, 1),
    turn2: turnsAt(seen, bar, first, 2),
    turn4: turnsAt(seen, bar, first, 4),
    turn8: turnsAt(seen, bar, first, 8),
    harmony4: outstanding(wide, bar, first, 4),
    harmony8: outstanding(wide, bar, first, 8),
    crash4: outstanding(high, bar, first, 4),
    crash8: outstanding(high, bar, first, 8),
    phraseRest: phraseRest(onset, bar, first),
    netBar: netBar / NET,
    netBarGain: netBar / (bar * seen.view.period) / NET,
    netInBar: (netBars.all * bar - netBar) / (bar - 1) / NET,
    netOtherBar: netOther / NET,
  };
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
