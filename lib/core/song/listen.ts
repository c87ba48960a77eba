import { bad, good, type Result } from '../result.ts';
import { durationOf, type Samples } from '../signal/samples.ts';
import { median } from '../signal/statistics.ts';
import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { heardBeats, playedBeats, smoothed } from './beats.ts';
import { featuresFrom } from './features.ts';
import { type Frames, framesFrom, heardSignal } from './frames.ts';
import { keyOf } from './key.ts';
import { energiesOf, integratedLoudness, SILENCE, truePeak } from './loudness.ts';
import { type HeardMetre, hearMetre, type Reading } from './metre.ts';
import { netCurves } from './net/curves.ts';
import { clarityOf } from './pulse.ts';
import type { Features } from './recording.ts';
import { type HeardSection, sectionsOf } from './sections.ts';

export type { HeardSection } from './sections.ts';

/** What was heard in a recording. Times are seconds of record time in whole microseconds; confidences 0 to 1. */
export interface Listening {
  duration: number;
  metre: { beats: 2 | 3 | 4; subdivision: 2 | 3 };
  /** All ways to count it that the music bears, the best first, which is `metre`. */
  readings: Reading[];
  /** Beats a minute, median. */
  tempo: number;
  beats: RecordTime[];
  /** Those of the beats that open a bar. */
  bars: RecordTime[];
  sections: HeardSection[];
  /** For example `Eb major`. */
  key: string;
  /** LUFS, integrated. */
  loudness: number;
  /** dBTP. */
  truePeak: number;
  firstSound: number;
  lastSound: number;
  confidence: { beats: number; metre: number; bars: number; sections: number; key: number };
  /** How far the tempo strays: half the spread of the middle 90 % of local tempi over their median; 0.01 is 1 %. */
  tempoDrift: number;
  features: Features;
}

/** What is heard before all is: told on the way. */
export type HeardSoFar = Pick<Listening, 'metre' | 'tempo'>;

const SHORTEST = 10;
const LONGEST = 15 * 60;
const MIN_BEATS = 12;
/** What is left of the trust in section boundaries when the bars are not: least squared error over 194 songs of two unlike programs. */
const WITH_OTHER_BARS = 0.5;

/**
 * Listens to a recording: beats, metre, bars, sections, key, loudness. Pure and synchronous: run it in a Worker, end the Worker
 * to cancel it.
 * @param report called with the share of the work done, 0 to 1, a word for what is being done, and what is heard by then
 * @returns problems `too short`, `too long`, `silent` and `no beat`, each with a sentence for the person
 */
export function listen(
  samples: Samples,
  report: (share: number, stage: string, soFar?: HeardSoFar) => void = () => {},
): Result<Listening> {
  const duration = durationOf(samples);
  if (!(samples.rate >= 8000 && samples.rate <= 192000)) {
    return bad(
      'sample rate',
      'The file has an unusual sample rate; save it at 44.1 or 48 kHz and try again.',
    );
  }
  if (duration < SHORTEST) {
    return bad('too short', 'The recording is shorter than ten seconds; choose the whole song.');
  }
  if (duration > LONGEST + 1) {
    return bad(
      'too long',
      'The recording is longer than 15 minutes; cut it to the song itself and try again.',
    );
  }
  // The shares are those of processor time, measured on two songs of about three minutes.
  report(0, 'loudness');
  const { sound, ...heardSong } = heardSignal(samples);
  if (!sound) return bad('silent', 'The recording is silent; choose a file in which the song can be heard.');
  report(0.08, 'loudness');
  const energies = energiesOf(samples);
  report(0.14, 'loudness');
  const loudness = integratedLoudness(samples, energies);
  const peak = truePeak(samples);
  if (loudness <= SILENCE) {
    return bad('silent', 'The recording is all but silent; choose a file in which the song can be heard.');
  }
  const frames = framesFrom(heardSong, (share) => report(0.25 + 0.35 * share, 'beats'));
  const net = netCurves(frames.net, (share) => report(0.6 + 0.2 * share, 'beats'));
  report(0.8, 'metre');
  const metre = hearMetre(frames, net);
  if (!metre) return noBeat();
  const heard = gridFromMetre(frames, metre, sound.last);
  const clarity = clarityOf(frames, metre.freely ? metre.steady : heard.beats);
  if (heard.beats.length < MIN_BEATS || heard.bars.length < 3 || clarity === 0) return noBeat();
  const intervals = heard.beats.slice(1).map((t, i) => t - heard.beats[i]!);
  const tempo = 60 / median(intervals);
  const { beatsPerBar, subdivision } = metre;
  const soFar = { metre: { beats: beatsPerBar, subdivision }, tempo };
  report(0.92, 'sections', soFar);
  const barStarts = heard.bars.map((i) => heard.beats[i]!);
  const { sections, raised, confidence } = sectionsOf(
    frames,
    barStarts,
    sectionsEnd(frames, heard.beats, barStarts, duration),
  );
  const key = keyOf(
    frames,
    // It finds the last chord for itself, which may lie where softer music no longer keeps time.
    heard.barsToEnd,
    sections.map(({ start, end }, i) => ({ start, end, raised: raised[i]! })),
  );
  const beats = heard.beats.map((t) => recordTime(wholeMicros(t)));
  report(1, 'done');
  return good({
    duration,
    ...soFar,
    readings: metre.readings.map((reading) => ({ ...reading, firstBar: wholeMicros(reading.firstBar) })),
    beats,
    bars: heard.bars.map((i) => beats[i]!),
    sections,
    key: key.key,
    loudness,
    truePeak: peak,
    firstSound: wholeMicros(sound.first),
    lastSound: wholeMicros(sound.last),
    confidence: {
      beats: metre.confidence.beats * clarity,
      metre: metre.confidence.metre * clarity,
      bars: metre.confidence.bars * clarity,
      sections: confidence * (WITH_OTHER_BARS + (1 - WITH_OTHER_BARS) * metre.confidence.bars * clarity),
      key: key.confidence,
    },
    tempoDrift: driftOf(intervals),
    features: featuresFrom(frames, energies),
  });
}

const noBeat = (): Result<never> =>
  bad(
    'no beat',
    'No steady beat can be heard here; if this is the right song, tap along to it to set the counts.',
  );

/** Smooth beats where music keeps time, which of them open a bar, and the times of all bars up to the last sound. */
function gridFromMetre(
  frames: Frames,
  metre: HeardMetre,
  lastSound: number,
): { beats: number[]; bars: number[]; barsToEnd: number[] } {
  const all = smoothed(frames, metre.beats, metre.freely);
  const heard = heardBeats(frames, all).filter((i) => all[i]! >= 0 && all[i]! <= lastSound);
  const beats = heard.map((i) => all[i]!);
  const bars = heard.flatMap((i, place) => (i % metre.beatsPerBar === metre.firstBar ? [place] : []));
  const played = playedBeats(frames, beats);
  return {
    beats: beats.slice(0, played),
    bars: bars.filter((place) => place < played),
    barsToEnd: bars.map((place) => beats[place]!),
  };
}

/** The last chord has rung out this far below its level at the last beat. Power ratio, 20 dB. */
const RUNG_OUT = 0.01;

/** The last section ends with the bar in which its last chord rings out, or with the recording. */
function sectionsEnd(
  frames: Frames,
  beats: readonly number[],
  bars: readonly number[],
  duration: number,
): number {
  const bar = bars.length > 1 ? bars.at(-1)! - bars.at(-2)! : 0;
  const lastBar = bars.at(-1)!;
  const power = (at: number): number => {
    const from = 6 * Math.round(at * frames.toneRate);
    let sum = 0;
    for (let b = 0; b < 6; b++) sum += Math.exp(frames.bands[from + b] ?? Number.NEGATIVE_INFINITY);
    return sum;
  };
  const step = 1 / frames.toneRate;
  const start = beats.at(-1)!;
  let loudest = 0;
  for (let t = start; t < start + bar / 2; t += step) loudest = Math.max(loudest, power(t));
  let end = start;
  while (end < duration && power(end) > RUNG_OUT * loudest) end += step;
  // A little sound beyond a bar line is its reverberation.
  const rung = bar > 0 ? Math.max(1, Math.ceil((end - lastBar) / bar - 0.3)) : 1;
  return Math.min(duration, lastBar + rung * bar);
}

/** Half the spread of the middle nine tenths of the local tempo (eight beats) about its median. */
function driftOf(intervals: readonly number[]): number {
  const local: number[] = [];
  for (let i = 0; i + 8 <= intervals.length; i++) local.push(median(intervals.slice(i, i + 8)));
  if (local.length === 0) return 0;
  local.sort((a, b) => a - b);
  const at = (share: number): number => local[Math.round(share * (local.length - 1))]!;
  return (at(0.95) - at(0.05)) / (2 * at(0.5));
}
