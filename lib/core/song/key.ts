import type { Frames } from './frames.ts';

const NAMES = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
/** Krumhansl and Kessler 1982, probe-tone ratings (from memory), as used by Krumhansl and Schmuckler's key finder. */
const MAJOR = [6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88];
const MINOR = [6.33, 2.68, 3.52, 5.38, 2.6, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17];
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
  const fits = NAMES.flatMap((name, tonic) => [
    { key: `${name} major`, fit: correlation(sum, tonic, MAJOR) },
    { key: `${name} minor`, fit: correlation(sum, tonic, MINOR) },
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
