import { useMemo } from 'react';
import { type SeamFigures, seamFigures, usualSteps } from '@/lib/core/edit/seam.ts';
import { decodeFeatures } from '@/lib/core/song/features.ts';
import { usePlan } from '../_client/room.tsx';

/** The figures of the present edit's joins, in order; the beat error only where the samples were measured. */
export function useSeams(): SeamFigures[] {
  const { grid, features, edit } = usePlan();
  const known = useMemo(() => {
    if (!grid || !features) return null;
    const table = decodeFeatures(features);
    return { grid, table, usual: usualSteps(table, grid) };
  }, [grid, features]);
  if (!known) return [];
  return (edit?.cuts ?? []).map((cut) => ({
    ...seamFigures(known.table, known.grid, known.usual, cut.from, cut.to),
    beatErrorMs: cut.beatErrorMs ?? null,
  }));
}
