import { mean } from '../signal/statistics.ts';
import { type Fold, foldOf } from './fold.ts';
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
  evidence: number[];
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
    onset: foldOf(view.onset),
    low: foldOf(view.low),
    high: foldOf(view.high),
    harmony: foldOf(view.harmony),
    wide: foldOf(view.wide),
    turns: foldOf(view.turns),
    repeated: [2, 3, 4, 6, 8].map(onRhythm),
    harmonyRepeated: [2, 3, 4].map((lag) => repeats(view.harmony, lag)),
  };
  const out: Hypothesis[] = [];
  for (const beatsPerBar of [2, 3, 4] as const) {
    const alike = STRANDS.flatMap((strand) => [
      likeness[strand][1]!,
      ...BARS_ON.map((n) => between(likeness[strand], n * beatsPerBar)),
    ]);
    const bar = Math.log2((view.period * beatsPerBar) / 2);
    const ofBars = Array.from({ length: beatsPerBar }, (_, first) => barEvidence(seen, beatsPerBar, first));
    for (const subdivision of [2, 3] as const) {
      const ofBeat = beatEvidence(seen, subdivision);
      const place = (subdivision === 2 ? 0 : 3) + beatsPerBar - 2;
      const classes = [0, 1, 2, 3, 4, 5].map((i) => (i === place ? 1 : 0));
      const three = beatsPerBar === 3 ? ofBeat.ofThree : [0, 0];
      for (let firstBar = 0; firstBar < beatsPerBar; firstBar++) {
        const evidence = [
          ...[...classes, ...ofBeat.tempo, ...three, bar, bar * bar, ...ofBeat.pulse],
          ...ofBars[firstBar]!,
          ...alike,
        ];
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

/** Between the whole beats to either side. */
function between(values: Float64Array, at: number): number {
  const whole = Math.min(LONGEST_ON, Math.floor(at));
  const next = Math.min(LONGEST_ON, Math.ceil(at));
  return values[whole]! + (at - Math.floor(at)) * (values[next]! - values[whole]!);
}

function beatEvidence(
  { view, onset, low, high, harmony }: Seen,
  subdivision: 2 | 3,
): { tempo: number[]; ofThree: number[]; pulse: number[] } {
  const fast = Math.log2(0.55 / view.period);
  const [simple, compound] = subdivision === 2 ? [1, 0] : [0, 1];
  const parts = subdivision === 2 ? view.half : view.thirds;
  const wrongParts = subdivision === 2 ? view.thirds : view.half;
  const lowParts = subdivision === 2 ? view.lowHalf : view.lowThirds;
  const highParts = subdivision === 2 ? view.highHalf : view.highThirds;
  const harmonyParts = subdivision === 2 ? view.harmonyHalf : view.harmonyThirds;
  return {
    tempo: [simple * fast, simple * fast * fast, compound * fast, compound * fast * fast],
    ofThree: [fast, fast * fast],
    pulse: [
      onset.all,
      view.covered,
      onset.all - parts,
      low.all - lowParts,
      high.all - highParts,
      parts - wrongParts,
      subdivision === 3 ? view.threes : -view.threes,
      view.quarters - parts,
      (harmony.all - harmonyParts) / (harmony.deviation + 0.02),
      // Onset gathered a second by beats and their parts: a level too slow leaves much unexplained.
      (onset.all + (subdivision - 1) * parts) / subdivision,
      // Where between the beats the onsets lie, finely: a swung half is not a third.
      ...view.fine,
    ],
  };
}

function barEvidence(seen: Seen, bar: 2 | 3 | 4, first: number): number[] {
  const { onset, low, high, harmony, wide, repeated, harmonyRepeated } = seen;
  const rhythm = { 2: 0, 3: 1, 4: 2 }[bar];
  const others = [0, 1, 2].filter((i) => i !== rhythm && !(bar === 2 && i === 2) && !(bar === 4 && i === 0));
  const against = Math.max(...others.map((i) => repeated[i]!));
  const harmonyAgainst = Math.max(...others.map((i) => harmonyRepeated[i]!));
  const ones = harmony.mean(bar, first);
  const place = (fold: Fold, beat: number): number => (beat >= bar ? 0 : fold.standsOut(bar, first + beat));
  return [
    harmony.standsOut(bar, first),
    wide.standsOut(bar, first),
    low.standsOut(bar, first),
    onset.standsOut(bar, first),
    high.standsOut(bar, first),
    bar === 4 ? (harmony.mean(4, first + 2) - ones) / (harmony.deviation + 0.02) : 0,
    bar === 3 ? 0 : -high.standsOut(2, first),
    bar === 3 ? 0 : onset.standsOut(2, first),
    bar === 4 ? (low.mean(4, first) - low.mean(4, first + 2)) / (low.deviation + 1e-6) : 0,
    repeated[rhythm]! - against,
    bar === 4
      ? repeated[2]! - repeated[0]!
      : bar === 2
        ? repeated[0]! - repeated[2]!
        : repeated[1]! - repeated[3]!,
    harmonyRepeated[rhythm]! - harmonyAgainst,
    // How much of a typical bar line's change there is, absolutely: bars too short have lines without one.
    ones / (harmony.all + 0.02),
    // The same of every second bar line, the better of the two: bars that are half of the true ones change at every second line only.
    outstanding(wide, bar, first, 2),
    Math.abs(wide.mean(2 * bar, first) - wide.mean(2 * bar, first + bar)) / (wide.deviation + 0.02),
    ...[onset, low, high, wide].flatMap((fold) => [1, 2, 3].map((n) => place(fold, n))),
    ...[1, 2, 4, 8].map((bars) => turnsAt(seen, bar, first, bars)),
    ...[4, 8].map((bars) => outstanding(wide, bar, first, bars)),
    ...[4, 8].map((bars) => outstanding(high, bar, first, bars)),
    phraseRest(onset, bar, first),
  ];
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
  const quietest = (offset: number): number => {
    let least = Number.POSITIVE_INFINITY;
    for (let k = 0; k < 4; k++) {
      let sum = 0;
      for (let j = 0; j < half; j++) sum += onset.mean(4 * bar, first + k * bar + offset + j);
      least = Math.min(least, sum / half);
    }
    return least;
  };
  return (quietest(0) - quietest(bar - half)) / (onset.deviation + 1e-6);
}
