import { deviation, mean } from '../signal/statistics.ts';
import type { Frames } from './frames.ts';
import type { HarmonyChange } from './harmony.ts';
import { type PulseView, viewOf } from './pulseView.ts';

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

/** What is weighed; each is explained where it is computed. */
// biome-ignore format: a list of names
export const EVIDENCE = [
  'two', 'three', 'four', 'six8', 'nine8', 'twelve8',
  'fastSimple', 'farSimple', 'fastCompound', 'farCompound', 'fastThree', 'farThree', 'longBar', 'farBar',
  'onBeat', 'covered', 'rise', 'lowRise', 'divided', 'dividedOften', 'quartered', 'harmonyOnBeat', 'explained',
  'barHarmony', 'barHarmonyWide', 'barLow', 'barOnset', 'midHarmony', 'backbeat', 'midLow',
  'pattern', 'patternHalf', 'harmonyPattern', 'harmonyFill', 'harmonyTwice', 'fillTwice',
] as const;

/** Mean at every `step`-th value from `first`, less the mean of the others, in deviations of all. */
function standsOut(values: Float64Array, first: number, step: number): number {
  let on = 0;
  let ons = 0;
  let all = 0;
  for (let i = 0; i < values.length; i++) {
    all += values[i]!;
    if (i % step === first) {
      on += values[i]!;
      ons++;
    }
  }
  const rest = values.length - ons;
  if (ons === 0 || rest === 0) return 0;
  return (on / ons - (all - on) / rest) / (deviation(values) + 1e-6);
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

/** Every metre upon one pulse, with its evidence. `divisions` limits which subdivisions the pulse's phase makes sense for. */
export function hypothesesOn(
  frames: Frames,
  change: HarmonyChange,
  beats: number[],
  pulse: number,
  divisions: readonly (2 | 3)[],
): Hypothesis[] {
  if (beats.length < 8) return [];
  const view = viewOf(frames, change, beats);
  const repeated = [2, 3, 4, 6, 8].map(
    (lag) => (repeats(view.onset, lag) + repeats(view.low, lag) + repeats(view.high, lag)) / 3,
  );
  const harmonyRepeated = [2, 3, 4, 6, 8].map((lag) => repeats(view.harmony, lag));
  const out: Hypothesis[] = [];
  for (const subdivision of divisions) {
    const ofBeat = beatEvidence(view, subdivision);
    for (const beatsPerBar of [2, 3, 4] as const) {
      const place = (subdivision === 2 ? 0 : 3) + beatsPerBar - 2;
      const classes = [0, 1, 2, 3, 4, 5].map((i) => (i === place ? 1 : 0));
      const three = beatsPerBar === 3 ? ofBeat.ofThree : [0, 0];
      const bar = Math.log2((view.period * beatsPerBar) / 2);
      for (let firstBar = 0; firstBar < beatsPerBar; firstBar++) {
        const ofBar = barEvidence(view, beatsPerBar, firstBar, repeated, harmonyRepeated);
        out.push({
          pulse,
          beatsPerBar,
          subdivision,
          firstBar,
          evidence: [...classes, ...ofBeat.tempo, ...three, bar, bar * bar, ...ofBeat.pulse, ...ofBar],
        });
      }
    }
  }
  return out;
}

function beatEvidence(
  view: PulseView,
  subdivision: 2 | 3,
): { tempo: number[]; ofThree: number[]; pulse: number[] } {
  const fast = Math.log2(0.55 / view.period);
  const [simple, compound] = subdivision === 2 ? [1, 0] : [0, 1];
  const on = mean(view.onset);
  const parts = subdivision === 2 ? view.half : view.thirds;
  const wrongParts = subdivision === 2 ? view.thirds : view.half;
  const lowParts = subdivision === 2 ? view.lowHalf : view.lowThirds;
  const harmonyParts = subdivision === 2 ? view.harmonyHalf : view.harmonyThirds;
  const harmony = mean(view.harmony);
  return {
    tempo: [simple * fast, simple * fast * fast, compound * fast, compound * fast * fast],
    ofThree: [fast, fast * fast],
    pulse: [
      on,
      view.covered,
      on - parts,
      mean(view.low) - lowParts,
      parts - wrongParts,
      subdivision === 3 ? view.threes : -view.threes,
      view.quarters - parts,
      (harmony - harmonyParts) / (deviation(view.harmony) + 0.02),
      // Onset gathered a second by beats and their parts: a level too slow leaves much unexplained.
      (on + (subdivision - 1) * parts) / subdivision,
    ],
  };
}

function barEvidence(
  view: PulseView,
  bar: 2 | 3 | 4,
  first: number,
  repeated: number[],
  harmonyRepeated: number[],
): number[] {
  const rhythm = { 2: 0, 3: 1, 4: 2 }[bar];
  const others = [0, 1, 2].filter((i) => i !== rhythm && !(bar === 2 && i === 2) && !(bar === 4 && i === 0));
  const against = Math.max(...others.map((i) => repeated[i]!));
  const harmonyAgainst = Math.max(...others.map((i) => harmonyRepeated[i]!));
  const middle = bar === 4 ? (first + 2) % 4 : first;
  const ones = meanOf(view.harmony, bar, [first]);
  return [
    standsOut(view.harmony, first, bar),
    standsOut(view.wide, first, bar),
    standsOut(view.low, first, bar),
    standsOut(view.onset, first, bar),
    bar === 4 ? (meanOf(view.harmony, 4, [middle]) - ones) / (deviation(view.harmony) + 0.02) : 0,
    bar === 3 ? 0 : -standsOut(view.high, first % 2, 2),
    bar === 4
      ? (meanOf(view.low, 4, [first]) - meanOf(view.low, 4, [middle])) / (deviation(view.low) + 1e-6)
      : 0,
    repeated[rhythm]! - against,
    bar === 4
      ? repeated[2]! - repeated[0]!
      : bar === 2
        ? repeated[0]! - repeated[2]!
        : repeated[1]! - repeated[3]!,
    harmonyRepeated[rhythm]! - harmonyAgainst,
    // How much of a typical bar line's change there is, absolutely: bars too short have lines without one.
    ones / (meanOf(view.harmony, 1, [0]) + 0.02),
    // The same of every second bar line, the better of the two: bars that are half of the true ones change at every second line only.
    Math.max(standsOut(view.wide, first, 2 * bar), standsOut(view.wide, first + bar, 2 * bar)),
    Math.abs(meanOf(view.wide, 2 * bar, [first]) - meanOf(view.wide, 2 * bar, [first + bar])) /
      (deviation(view.wide) + 0.02),
  ];
}

/** Mean over the places of a bar. */
function meanOf(values: Float64Array, bar: number, places: number[]): number {
  let sum = 0;
  let n = 0;
  for (let i = 0; i < values.length; i++) {
    if (!places.includes(i % bar)) continue;
    sum += values[i]!;
    n++;
  }
  return n === 0 ? 0 : sum / n;
}
