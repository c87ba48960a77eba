import type { Cut, Edit } from '@/lib/core/edit/edit.ts';
import { beatErrorAt, measureSeam, usualSteps } from '@/lib/core/edit/seam.ts';
import type { Samples } from '@/lib/core/signal/samples.ts';
import { decodeFeatures } from '@/lib/core/song/features.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import type { Features } from '@/lib/core/song/recording.ts';

/** A seam this near a bar line was meant for it, seconds. */
const MEANT = 0.06;

/** The edit with each join aligned to the sample where both its sides are bar lines, and the beat error of all measured. */
export function measured(samples: Samples, edit: Edit, grid: Grid, features: Features): Edit {
  const table = decodeFeatures(features);
  const usual = usualSteps(table, grid);
  const bars = grid.bars.map((i) => grid.beats[i]!);
  const lineNear = (at: number): number =>
    bars.reduce(
      (best, bar) => (Math.abs(bar - at) < Math.abs(best - at) ? bar : best),
      Number.POSITIVE_INFINITY,
    );
  const cuts = edit.cuts.map((cut): Cut => {
    const [from, to] = [lineNear(cut.from), lineNear(cut.to)];
    const meant = Math.abs(from - cut.from) <= MEANT && Math.abs(to - cut.to) <= MEANT;
    if (!meant) {
      const error = beatErrorAt(samples, grid, cut.from, cut.to);
      return withError(cut, error === null ? null : error * 1000);
    }
    const seam = measureSeam(samples, table, grid, usual, from, to);
    return withError({ from: seam.from, to: seam.to, crossfade: seam.crossfade }, seam.beatErrorMs);
  });
  return { ...edit, cuts };
}

const withError = ({ from, to, crossfade }: Cut, beatErrorMs: number | null): Cut => ({
  ...{ from, to, crossfade },
  ...(beatErrorMs === null ? {} : { beatErrorMs }),
});
