import type { FloorScore } from '@/lib/core/edit/score.ts';
import { type FeatureTable, loudnessAt } from '@/lib/core/song/features.ts';
import { recordTime } from '@/lib/core/units.ts';

/** Two looks a count: enough for a swell, few enough to draw. */
const LOOKS = 2;
/** A song whose loudness moves less than this, LU, is drawn as even as it is. */
const LEAST_RANGE = 6;
/** So much of the song is as quiet as the thinnest tint: a silence at its end does not flatten the rest. */
const QUIET_SHARE = 0.05;

/** How loud the music is over the floor score, 0 to 1 of the song's own range, `LOOKS` values a count. */
export function tintOf(score: FloorScore, features: FeatureTable): number[] {
  const times = score.counts.flatMap(({ record }, i) => {
    const next = score.counts[i + 1]?.record ?? record;
    const step = next > record && next - record < 2 * score.interval ? next - record : 0;
    return Array.from({ length: LOOKS }, (_, k) => recordTime(record + (k * step) / LOOKS));
  });
  const levels = times.map((at) => loudnessAt(features, at));
  const sorted = [...levels].sort((a, b) => a - b);
  const loudest = sorted.at(-1) ?? 0;
  const quiet = sorted[Math.floor(QUIET_SHARE * sorted.length)] ?? 0;
  const range = Math.max(LEAST_RANGE, loudest - quiet);
  return levels.map((level) => Math.max(0, 1 + (level - loudest) / range));
}

/** The outline of the tint under a row, as points of a path: x in counts from the row's first, y from 0 to 1. */
export function tintPoints(tint: readonly number[], first: number, counts: number): [number, number][] {
  if (tint.length === 0 || counts === 0) return [];
  const points: [number, number][] = [];
  for (let k = 0; k <= counts * LOOKS; k++) {
    const level = tint[first * LOOKS + Math.min(k, counts * LOOKS - 1)] ?? 0;
    points.push([k / LOOKS, Math.round(level * 100) / 100]);
  }
  return points;
}
