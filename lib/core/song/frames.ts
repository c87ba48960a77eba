import { Decimator, decimate } from '../signal/decimate.ts';
import { Spectrum } from '../signal/fft.ts';
import { eachMixedBlock, lengthOf, type Samples } from '../signal/samples.ts';
import { runningSums } from '../signal/statistics.ts';
import { hann, nearestPowerOfTwo } from '../signal/window.ts';
import { NetEar, type NetInput } from './net/input.ts';
import { LevelMeter, type SoundEdges } from './silence.ts';

/** Everything that beats, metre, sections and key are read from; the samples themselves are needed no longer. */
export interface Frames {
  /** Seconds of record time that frame i of the onset curves stands for: i / onsetRate. */
  onsetRate: number;
  /** Rise of energy over all bands, median 0 locally, scaled to deviation 1 over the song. */
  onset: Float32Array;
  /** The same below about 160 Hz (kick and bass), and above about 1.5 kHz (snare, cymbals, consonants). */
  low: Float32Array;
  high: Float32Array;
  /** Tone frames: frame i is centred at i / toneRate seconds. */
  toneRate: number;
  /** 12 pitch classes a frame, C first, from about 130 to 2100 Hz; magnitudes. */
  chroma: Float32Array;
  /** 12 pitch classes of the bass, about 40 to 200 Hz. */
  bass: Float32Array;
  /** Six band energies a frame, natural log of power, low to high. */
  bands: Float32Array;
  /** What the learned ear hears of the same spectra. */
  net: NetInput;
}

const ANALYSIS_RATE = 22050;
const ONSET_WINDOW = 0.046;
const ONSET_HOP = 0.01;
/** Tone frames are one in five onset frames. */
const TONE_EVERY = 5;
const TONE_WINDOW = 0.186;
const ONSET_BANDS = 30;
/** Tones are told apart at a rate this many times lower: none above 2.1 kHz is used. */
const TONE_FACTOR = 4;
/** Upper edges in Hz of the six timbre bands; the last runs to the top. */
const TIMBRE_EDGES = [120, 300, 700, 1600, 4000];
/** Level of the song that the compression of the onset curve is fitted to. */
const LEVEL = 0.1;
/** Compression of band magnitudes, log(1 + STEEPNESS x magnitude): Klapuri's mu-law in spirit, value tried by ear of synthesis. */
const STEEPNESS = 20;

/** What is listened to: mono at 22.05 kHz or a little above, at one level whatever the file's. */
export interface HeardSignal {
  signal: Float32Array;
  rate: number;
}

/** In one pass over the samples, without a copy of them: what is listened to, and where sound begins and ends (undefined of silence). */
export function heardSignal(samples: Samples): HeardSignal & { sound: SoundEdges | undefined } {
  const factor = Math.max(1, Math.floor(samples.rate / ANALYSIS_RATE));
  const levels = new LevelMeter(samples.rate);
  const low = new Decimator(lengthOf(samples), factor);
  eachMixedBlock(samples, (block) => {
    levels.add(block);
    low.add(block);
  });
  const signal = low.end();
  toLevel(signal);
  return { signal, rate: samples.rate / factor, sound: levels.edges() };
}

/** The frames of a recording; see `framesFrom`. */
export const framesOf = (samples: Samples, report: (share: number) => void): Frames =>
  framesFrom(heardSignal(samples), report);

/**
 * Onset curves after Böck and Widmer 2013 (spectral flux against a maximum over neighbouring bands, so that vibrato adds little)
 * and pitch-class frames after Fujishima 1999.
 * @param report called with the share done, 0 to 1
 */
export function framesFrom(
  { signal, rate: analysisRate }: HeardSignal,
  report: (share: number) => void,
): Frames {
  const reader = new FrameReader(signal, analysisRate);
  for (let from = 0; from < reader.count; from += RUN) {
    report(from / reader.count);
    reader.read(from, Math.min(reader.count, from + RUN));
  }
  return reader.frames();
}

/** Frames that are read in one call: a function that ends now and then stays compiled from song to song. */
const RUN = 250;

class FrameReader {
  readonly count: number;
  private readonly hop: number;
  private readonly size: number;
  private readonly toneSize: number;
  private readonly toneSignal: Float32Array;
  private readonly onsets: OnsetMeter;
  private readonly tones: ToneMeter;
  private readonly bands: BandMeter;
  private readonly ear: NetEar;
  private readonly spectrum: Spectrum;
  private readonly toneSpectrum: Spectrum;
  private readonly power: Float32Array;
  private readonly powerBelow: Float64Array;
  private readonly tonePower: Float32Array;
  private readonly toneBelow: Float64Array;

  constructor(
    private readonly signal: Float32Array,
    private readonly rate: number,
  ) {
    const toneRate = rate / TONE_FACTOR;
    this.hop = Math.max(1, Math.round(rate * ONSET_HOP));
    this.size = nearestPowerOfTwo(rate * ONSET_WINDOW);
    this.toneSize = nearestPowerOfTwo(toneRate * TONE_WINDOW);
    this.toneSignal = decimate(signal, TONE_FACTOR);
    this.count = Math.floor(signal.length / this.hop) + 1;
    const toneCount = Math.floor((this.count - 1) / TONE_EVERY) + 1;
    this.onsets = new OnsetMeter(this.size, rate, this.count);
    this.tones = new ToneMeter(this.toneSize, toneRate, toneCount);
    this.bands = new BandMeter(this.size, rate, toneCount);
    this.ear = new NetEar(
      ...([this.size, rate, this.toneSize, toneRate, this.count, toneCount, rate / this.hop] as const),
    );
    this.spectrum = new Spectrum(this.size, hann(this.size));
    this.toneSpectrum = new Spectrum(this.toneSize, hann(this.toneSize));
    this.power = new Float32Array(this.size / 2 + 1);
    this.powerBelow = new Float64Array(this.size / 2 + 2);
    this.tonePower = new Float32Array(this.toneSize / 2 + 1);
    this.toneBelow = new Float64Array(this.toneSize / 2 + 2);
  }

  read(from: number, to: number): void {
    for (let i = from; i < to; i++) {
      this.spectrum.powers(this.signal, i * this.hop - this.size / 2, this.power);
      runningSums(this.power, this.powerBelow);
      this.onsets.add(i, this.powerBelow);
      this.bands.add(Math.round(i / TONE_EVERY), this.powerBelow);
      this.ear.addOnset(i, this.powerBelow);
      if (i % TONE_EVERY === 0) this.readTones(i / TONE_EVERY, i * this.hop);
    }
  }

  private readTones(i: number, at: number): void {
    const start = Math.round(at / TONE_FACTOR) - this.toneSize / 2;
    this.toneSpectrum.powers(this.toneSignal, start, this.tonePower);
    this.tones.add(i, this.tonePower);
    runningSums(this.tonePower, this.toneBelow);
    this.ear.addTone(i, this.toneBelow);
  }

  frames(): Frames {
    const { onsets, tones, bands } = this;
    const onsetRate = this.rate / this.hop;
    return {
      onsetRate,
      onset: flattened(onsets.total, onsetRate),
      low: flattened(onsets.low, onsetRate),
      high: flattened(onsets.high, onsetRate),
      toneRate: onsetRate / TONE_EVERY,
      chroma: tones.chroma,
      bass: tones.bass,
      bands: bands.logs(),
      net: this.ear.input(),
    };
  }
}

/** Brings it to a root mean square of LEVEL, so that how loud a file is changes nothing that is heard in it. */
function toLevel(signal: Float32Array): void {
  let sum = 0;
  for (let i = 0; i < signal.length; i++) sum += signal[i]! * signal[i]!;
  const gain = LEVEL / Math.sqrt(sum / Math.max(1, signal.length) + 1e-20);
  for (let i = 0; i < signal.length; i++) signal[i]! *= gain;
}

class OnsetMeter {
  readonly total: Float32Array;
  readonly low: Float32Array;
  readonly high: Float32Array;
  private readonly edges: Int32Array;
  private readonly lowEnd: number;
  private readonly highFrom: number;
  private readonly steepness: number;
  /** Magnitudes of this frame and the two before; band b is at b + 1, the places at either end stay empty. */
  private now: Float32Array;
  private before: Float32Array;
  private earlier: Float32Array;

  constructor(size: number, rate: number, count: number) {
    this.total = new Float32Array(count);
    this.low = new Float32Array(count);
    this.high = new Float32Array(count);
    this.edges = bandEdges(size, rate);
    const hertz = [...this.edges].map((bin) => (bin * rate) / size);
    this.lowEnd = hertz.findIndex((x) => x >= 160);
    this.highFrom = hertz.findIndex((x) => x > 1500);
    this.steepness = STEEPNESS / Math.sqrt(size);
    this.now = new Float32Array(this.edges.length + 1);
    this.before = new Float32Array(this.edges.length + 1);
    this.earlier = new Float32Array(this.edges.length + 1);
  }

  add(i: number, powerBelow: Float64Array): void {
    const { edges, lowEnd, highFrom, steepness, now, before, earlier } = this;
    const bands = edges.length - 1;
    for (let b = 0; b < bands; b++) {
      const power = powerBelow[edges[b + 1]!]! - powerBelow[edges[b]!]!;
      now[b + 1] = Math.log(1 + steepness * Math.sqrt(power));
    }
    let [all, bass, treble] = [0, 0, 0];
    for (let b = 0; i > 0 && b < bands; b++) {
      const rise = now[b + 1]! - Math.max(earlier[b]!, earlier[b + 1]!, earlier[b + 2]!);
      if (rise <= 0) continue;
      all += rise;
      if (b < lowEnd) bass += rise;
      if (b >= highFrom) treble += rise;
    }
    this.total[i] = all;
    this.low[i] = bass;
    this.high[i] = treble;
    this.earlier = before;
    this.before = now;
    this.now = earlier;
  }
}

/** Bins at which bands begin: equal steps of the logarithm from 40 Hz to 11 kHz or the top, each at least a bin wide. */
function bandEdges(size: number, rate: number): Int32Array {
  const top = Math.min(11000, rate / 2);
  const edges: number[] = [];
  for (let b = 0; b <= ONSET_BANDS; b++) {
    const bin = Math.round((40 * (top / 40) ** (b / ONSET_BANDS) * size) / rate);
    if (bin > (edges.at(-1) ?? 0)) edges.push(bin);
  }
  return Int32Array.from(edges);
}

class ToneMeter {
  readonly chroma: Float32Array;
  readonly bass: Float32Array;
  private readonly first: number;
  private readonly end: number;
  private readonly bassTop: number;
  private readonly chromaFrom: number;
  private readonly pitchClass: Int8Array;

  constructor(size: number, rate: number, count: number) {
    this.chroma = new Float32Array(12 * count);
    this.bass = new Float32Array(12 * count);
    const bin = (hertz: number): number => (hertz * size) / rate;
    this.bassTop = Math.floor(bin(200));
    this.chromaFrom = Math.floor(bin(130));
    this.first = Math.floor(bin(40)) + 1;
    this.end = Math.min(size / 2, Math.ceil(bin(2100)));
    this.pitchClass = new Int8Array(this.end);
    for (let k = this.first; k < this.end; k++) {
      const pitch = 69 + 12 * Math.log2((k * rate) / size / 440);
      this.pitchClass[k] = ((Math.round(pitch) % 12) + 12) % 12;
    }
  }

  add(i: number, power: Float32Array): void {
    const { chroma, bass, first, end, bassTop, chromaFrom, pitchClass } = this;
    for (let k = first; k < end; k++) {
      const p = power[k]!;
      // Only peaks of the spectrum count as tones: noise and skirts of strong tones do not.
      if (p < power[k - 1]! || p < power[k + 1]!) continue;
      const at = 12 * i + pitchClass[k]!;
      const magnitude = Math.sqrt(p);
      if (k <= bassTop) bass[at]! += magnitude;
      if (k >= chromaFrom) chroma[at]! += magnitude;
    }
  }
}

/** Energy of the six timbre bands, summed over the onset frames about each tone frame. */
class BandMeter {
  private readonly sums: Float32Array;
  private readonly edges: Int32Array;

  constructor(
    size: number,
    rate: number,
    private readonly count: number,
  ) {
    this.sums = new Float32Array(6 * count);
    const inner = TIMBRE_EDGES.map((hertz) => Math.min(size / 2, Math.round((hertz * size) / rate)));
    this.edges = Int32Array.of(1, ...inner, size / 2 + 1);
  }

  add(frame: number, powerBelow: Float64Array): void {
    const { sums, edges } = this;
    const at = 6 * Math.min(frame, this.count - 1);
    for (let b = 0; b < 6; b++) sums[at + b]! += powerBelow[edges[b + 1]!]! - powerBelow[edges[b]!]!;
  }

  logs(): Float32Array {
    return this.sums.map((sum) => Math.log(sum + 1e-6));
  }
}

/** Takes off a running mean over one second and divides by the deviation of the song, so that quiet and loud parts count alike. */
function flattened(curve: Float32Array, rate: number): Float32Array {
  const reach = Math.round(rate / 2);
  const wide = Math.round(rate * 4);
  const sums = new Float64Array(curve.length + 1);
  for (let i = 0; i < curve.length; i++) sums[i + 1] = sums[i]! + curve[i]!;
  const meanOver = (i: number, r: number): number => {
    const from = Math.max(0, i - r);
    const to = Math.min(curve.length, i + r + 1);
    return (sums[to]! - sums[from]!) / (to - from);
  };
  const whole = curve.length === 0 ? 0 : sums[curve.length]! / curve.length;
  const out = new Float32Array(curve.length);
  let square = 0;
  for (let i = 0; i < curve.length; i++) {
    // Half of the levelling is local: a soft intro's onsets must count, silence must not be blown up.
    const y = Math.max(0, curve[i]! - meanOver(i, reach)) / (meanOver(i, wide) + 0.5 * whole + 1e-9);
    out[i] = y;
    square += y * y;
  }
  const scale = 1 / Math.sqrt(square / Math.max(1, out.length) + 1e-12);
  for (let i = 0; i < out.length; i++) out[i]! *= scale;
  return out;
}
