import { fromBase64, toBase64 } from '../signal/base64.ts';
import type { RecordTime } from '../units.ts';
import type { Frames } from './frames.ts';
import { type Energies, momentaryLoudness } from './loudness.ts';
import type { Features } from './recording.ts';

/** Seconds a frame. */
export const FRAME = 0.25;
const PITCHES = 12;
const BANDS = 6;
/** LUFS of the bytes 0 and 255. */
const QUIETEST = -80;
/** dB a step of a timbre byte: 255 is all of the frame's energy in one band, 0 is 63.75 dB less. */
const TIMBRE_STEP = 0.25;

/** Writes what was heard, frame by frame, in bytes: loudness, pitch classes and timbre (see `features` in recording.ts). */
export function featuresFrom(frames: Frames, energies: Energies): Features {
  const momentary = momentaryLoudness(energies, FRAME);
  const count = momentary.length;
  const chroma = new Uint8Array(PITCHES * count);
  const timbre = new Uint8Array(BANDS * count);
  for (let i = 0; i < count; i++) writeFrame(frames, i, chroma, timbre);
  const loudness = Uint8Array.from(momentary, (lufs) => byte((255 * (lufs - QUIETEST)) / -QUIETEST));
  return { frame: FRAME, loudness: toBase64(loudness), chroma: toBase64(chroma), timbre: toBase64(timbre) };
}

function writeFrame(frames: Frames, i: number, chroma: Uint8Array, timbre: Uint8Array): void {
  const pitches = new Float64Array(PITCHES);
  const bands = new Float64Array(BANDS);
  const from = Math.round(i * FRAME * frames.toneRate);
  const to = Math.min(frames.chroma.length / PITCHES, Math.round((i + 1) * FRAME * frames.toneRate));
  for (let t = from; t < to; t++) {
    for (let c = 0; c < PITCHES; c++) {
      pitches[c]! += frames.chroma[PITCHES * t + c]! + frames.bass[PITCHES * t + c]! / 2;
    }
    for (let b = 0; b < BANDS; b++) bands[b]! += Math.exp(frames.bands[BANDS * t + b]!);
  }
  let loudest = 1e-9;
  for (let c = 0; c < PITCHES; c++) loudest = Math.max(loudest, pitches[c]!);
  let all = 1e-12;
  for (let b = 0; b < BANDS; b++) all += bands[b]!;
  for (let c = 0; c < PITCHES; c++) chroma[PITCHES * i + c] = Math.round((255 * pitches[c]!) / loudest);
  for (let b = 0; b < BANDS; b++) {
    timbre[BANDS * i + b] = byte(255 + (10 * Math.log10(bands[b]! / all + 1e-12)) / TIMBRE_STEP);
  }
}

const byte = (x: number): number => Math.min(255, Math.max(0, Math.round(x)));

/** Decoded features; decode once and read often. */
export interface FeatureTable {
  frame: number;
  /** LUFS a frame. */
  loudness: Float32Array;
  /** 12 values a frame, C first, 0 to 1. */
  chroma: Float32Array;
  /** 6 values a frame, dB below the frame's whole, low to high. */
  timbre: Float32Array;
}

export function decodeFeatures(features: Features): FeatureTable {
  return {
    frame: features.frame,
    loudness: Float32Array.from(fromBase64(features.loudness), (b) => QUIETEST - (QUIETEST * b) / 255),
    chroma: Float32Array.from(fromBase64(features.chroma), (b) => b / 255),
    timbre: Float32Array.from(fromBase64(features.timbre), (b) => (b - 255) * TIMBRE_STEP),
  };
}

const tableOf = (features: Features | FeatureTable): FeatureTable =>
  typeof features.loudness === 'string' ? decodeFeatures(features as Features) : (features as FeatureTable);

/** Momentary loudness at a moment, LUFS; before the first and after the last frame that frame's. */
export function loudnessAt(features: Features | FeatureTable, at: RecordTime): number {
  const { frame, loudness } = tableOf(features);
  if (loudness.length === 0) return QUIETEST;
  return loudness[Math.min(loudness.length - 1, Math.max(0, Math.floor(at / frame)))]!;
}

/** Mean pitch classes over a stretch, C first; all 0 of an empty one. */
export function chromaOf(features: Features | FeatureTable, from: RecordTime, to: RecordTime): number[] {
  const table = tableOf(features);
  return meanOver(table.chroma, PITCHES, from / table.frame, to / table.frame);
}

/** Mean timbre over a stretch, dB below the whole, low to high. */
export function timbreOf(features: Features | FeatureTable, from: RecordTime, to: RecordTime): number[] {
  const table = tableOf(features);
  return meanOver(table.timbre, BANDS, from / table.frame, to / table.frame);
}

/** Mean of rows over a stretch of frames, which counts the part of a frame that it covers. */
function meanOver(rows: Float32Array, width: number, from: number, to: number): number[] {
  const out = new Array<number>(width).fill(0);
  const count = Math.floor(rows.length / width);
  let whole = 0;
  for (let i = Math.max(0, Math.floor(from)); i < Math.min(count, Math.ceil(to)); i++) {
    const part = Math.min(to, i + 1) - Math.max(from, i);
    whole += part;
    for (let c = 0; c < width; c++) out[c]! += part * rows[width * i + c]!;
  }
  return whole > 0 ? out.map((x) => x / whole) : out;
}
