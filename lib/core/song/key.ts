import type { Frames } from './frames.ts';

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
/** Krumhansl and Kessler 1982, probe-tone ratings (from memory), as used by Krumhansl and Schmuckler's key finder. */
const MAJOR = [6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88];
const MINOR = [6.33, 2.68, 3.52, 5.38, 2.6, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17];
/** What the final and the opening chord add when they are the key's own: songs mostly end, and often begin, at home. Common practice, no source. */
const AT_THE_END = 0.25;
const AT_THE_START = 0.1;
/** Seconds that count as beginning and end. */
const EDGE = 2;

/** How sharply a better fit becomes confidence: the correlations' difference is multiplied by this. */
const SHARPNESS = 14;

/** The key of the whole song, e.g. `Eb major`, with confidence as the share of the best among all 24. */
export function keyOf(frames: Frames): { key: string; confidence: number } {
  const sum = new Array<number>(12).fill(0);
  for (let i = 0; i < frames.chroma.length; i += 12) {
    let frame = 1e-9;
    for (let c = 0; c < 12; c++) frame = Math.max(frame, frames.chroma[i + c]! + frames.bass[i + c]!);
    // The square root lets loud frames count more, but not rule.
    for (let c = 0; c < 12; c++) sum[c]! += (frames.chroma[i + c]! + frames.bass[i + c]!) / Math.sqrt(frame);
  }
  const [start, end] = edgesOf(frames);
  const home = (tonic: number, third: number): number =>
    AT_THE_START * triadShare(start, tonic, third) + AT_THE_END * triadShare(end, tonic, third);
  const fits = NAMES.flatMap((name, tonic) => [
    { key: `${name} major`, fit: correlation(sum, tonic, MAJOR) + home(tonic, 4) },
    { key: `${name} minor`, fit: correlation(sum, tonic, MINOR) + home(tonic, 3) },
  ]).sort((a, b) => b.fit - a.fit);
  const best = fits[0]!;
  const all = fits.reduce((total, { fit }) => total + Math.exp(SHARPNESS * (fit - best.fit)), 0);
  return { key: best.key, confidence: 1 / all };
}

function correlation(chroma: number[], tonic: number, profile: number[]): number {
  const mean = (list: number[]): number => list.reduce((s, x) => s + x, 0) / list.length;
  const [mc, mp] = [mean(chroma), mean(profile)];
  let cp = 0;
  let cc = 1e-12;
  let pp = 1e-12;
  for (let i = 0; i < 12; i++) {
    const c = chroma[(tonic + i) % 12]! - mc;
    const p = profile[i]! - mp;
    cp += c * p;
    cc += c * c;
    pp += p * p;
  }
  return cp / Math.sqrt(cc * pp);
}

/** Pitch classes, bass twice, of the first and of the last seconds in which anything sounds. */
function edgesOf(frames: Frames): [number[], number[]] {
  const count = frames.chroma.length / 12;
  const level = (i: number): number => {
    let sum = 0;
    for (let c = 0; c < 12; c++) sum += frames.chroma[12 * i + c]!;
    return sum;
  };
  let loudest = 0;
  for (let i = 0; i < count; i++) loudest = Math.max(loudest, level(i));
  let [first, last] = [0, count - 1];
  while (first < last && level(first) < 0.05 * loudest) first++;
  while (last > first && level(last) < 0.05 * loudest) last--;
  const length = Math.round(EDGE * frames.toneRate);
  const over = (from: number, to: number): number[] => {
    const out = new Array<number>(12).fill(0);
    for (let i = Math.max(0, from); i < Math.min(count, to); i++) {
      for (let c = 0; c < 12; c++) out[c]! += frames.chroma[12 * i + c]! + 2 * frames.bass[12 * i + c]!;
    }
    return out;
  };
  return [over(first, first + length), over(last - length, last + 1)];
}

/** How much of the sound is the triad, its root counted twice; about 0.3 of any sound, 1.3 at most. */
function triadShare(chroma: number[], tonic: number, third: number): number {
  const all = chroma.reduce((sum, x) => sum + x, 1e-9);
  const at = (step: number): number => chroma[(tonic + step) % 12]!;
  return (1.5 * at(0) + at(third) + at(7)) / all;
}
