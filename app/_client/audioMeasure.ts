import type { Cut, Edit } from '@/lib/core/edit/edit.ts';
import { beatErrorAt, seamBetween, seamFinder } from '@/lib/core/edit/seam.ts';
import type { Samples } from '@/lib/core/signal/samples.ts';
import { decodeFeatures } from '@/lib/core/song/features.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import type { Features } from '@/lib/core/song/recording.ts';

/** A join that nobody moved since it was put at its bar lines is this near to where they put it, seconds. */
const AS_PUT = 0.0005;

/** The edit with each join that lies as the grid's bar lines have it aligned to the sound, the others left where a person put them, and the beat error of all measured. */
export function measured(samples: Samples, edit: Edit, grid: Grid, features: Features): Edit {
  const table = decodeFeatures(features);
  const { find } = seamFinder(samples, table, grid);
  const bars = grid.bars.map((i) => grid.beats[i]!);
  const lineNear = (at: number): number =>
    bars.reduce(
      (best, bar) => (Math.abs(bar - at) < Math.abs(best - at) ? bar : best),
      Number.POSITIVE_INFINITY,
    );
  const cuts = edit.cuts.map((cut): Cut => {
    const [from, to] = [lineNear(cut.from), lineNear(cut.to)];
    const put = seamBetween(from, to);
    if (Math.abs(put.from - cut.from) > AS_PUT || Math.abs(put.to - cut.to) > AS_PUT) {
      const error = beatErrorAt(samples, grid, cut.from, cut.to);
      return withError(cut, error === null ? null : error * 1000);
    }
    const seam = find(from, to);
    return withError({ from: seam.from, to: seam.to, crossfade: seam.crossfade }, seam.beatErrorMs);
  });
  return { ...edit, cuts };
}

const withError = ({ from, to, crossfade }: Cut, beatErrorMs: number | null): Cut => ({
  ...{ from, to, crossfade },
  ...(beatErrorMs === null ? {} : { beatErrorMs }),
});
