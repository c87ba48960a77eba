import type { Plan } from '../areas/plan.ts';
import type { Cut } from '../edit/edit.ts';
import type { FloorSeam } from '../edit/score.ts';
import { chromaOf, type FeatureTable, loudnessAt, timbreOf } from '../song/features.ts';
import { recordTime } from '../units.ts';
import type { Danced, Place } from './finding.ts';
import { placeOfCount } from './words.ts';

/** A seam of the floor score with the cut that makes it. */
interface SeamSight {
  cut: Cut;
  index: number;
  seam: FloorSeam;
  place: Place;
}

export function seamsOf(plan: Plan, { score }: Danced): SeamSight[] {
  const cuts = plan.edit?.cuts ?? [];
  return score.seams.flatMap((seam) => {
    const index = cuts.findIndex((cut) => cut.to === seam.to);
    return index < 0 ? [] : [{ cut: cuts[index]!, index, seam, place: placeOfCount(score, seam.next) }];
  });
}

/** Distance of two vectors by their angle: 0 alike, 1 nothing in common. */
function byAngle(a: number[], b: number[]): number {
  const dot = (x: number[], y: number[]) => x.reduce((sum, value, i) => sum + value * y[i]!, 0);
  const size = Math.sqrt(dot(a, a) * dot(b, b));
  return size === 0 ? 0 : 1 - dot(a, b) / size;
}
const byLevel = (a: number[], b: number[]): number =>
  Math.sqrt(a.reduce((sum, value, i) => sum + (value - b[i]!) ** 2, 0) / a.length);

/** What of the music is compared, over a bar: pitch classes by angle, timbre by root mean square of dB. */
const measures = {
  harmony: { of: chromaOf, distance: byAngle },
  timbre: { of: timbreOf, distance: byLevel },
} as const;

/**
 * How far the bar before a seam is from the bar after it, and the step that 19 of 20 neighbouring bars of the whole song
 * stay below.
 */
export function seamDistance(
  kind: keyof typeof measures,
  { grid }: Danced,
  heard: FeatureTable,
  cut: Cut,
): { distance: number; usual: number } {
  const { of, distance } = measures[kind];
  const bars = grid.bars.map((i) => grid.beats[i]!);
  const long = bars.length > 1 ? (bars.at(-1)! - bars[0]!) / (bars.length - 1) : 2;
  const bar = (from: number) => of(heard, recordTime(Math.max(0, from)), recordTime(from + long));
  const steps = bars
    .slice(1)
    .map((at, i) => distance(bar(bars[i]!), bar(at)))
    .sort((a, b) => a - b);
  return {
    distance: distance(bar(cut.from - long), bar(cut.to)),
    usual: steps[Math.floor(0.95 * (steps.length - 1))] ?? 0,
  };
}

/** Step of loudness over a seam, LU: mean of the two seconds after it less that of the two before. */
export function levelStep(heard: FeatureTable, cut: Cut): number {
  const mean = (from: number) => {
    const frames = [0.25, 0.75, 1.25, 1.75].map((at) =>
      loudnessAt(heard, recordTime(Math.max(0, from + at))),
    );
    return frames.reduce((sum, lufs) => sum + lufs, 0) / frames.length;
  };
  return mean(cut.to) - mean(cut.from - 2);
}
