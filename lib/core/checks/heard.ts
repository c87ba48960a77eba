import type { Plan } from '../areas/plan.ts';
import type { Cut } from '../edit/edit.ts';
import { type SeamFigures, seamFigures, type Usual, usualSteps } from '../edit/seam.ts';
import { decodeFeatures, type FeatureTable } from '../song/features.ts';
import type { Grid } from '../song/grid.ts';
import type { Features } from '../song/recording.ts';

/**
 * What depends on the song alone is worked out once for each object that holds it: a plan's values are replaced and never
 * altered, so that the same object means the same song. Nothing is kept longer than the plan that it is of.
 */
const tables = new WeakMap<Features, FeatureTable>();
const measures = new WeakMap<FeatureTable, WeakMap<Grid, JoinMeasure>>();

/** What was heard of a plan's song frame by frame; null where that is unknown. */
export function heardOf({ features }: Plan): FeatureTable | null {
  return features && kept(tables, features, decodeFeatures);
}

/** A song's own steps from bar to bar, and its joins in that measure. */
interface JoinMeasure {
  usual: Usual;
  figuresOf(cut: Cut): SeamFigures;
}

export function joinMeasure(heard: FeatureTable, grid: Grid): JoinMeasure {
  const byGrid = kept(measures, heard, () => new WeakMap<Grid, JoinMeasure>());
  return kept(byGrid, grid, () => {
    const usual = usualSteps(heard, grid);
    const figures = new WeakMap<Cut, SeamFigures>();
    const work = ({ from, to }: Cut) => seamFigures(heard, grid, usual, from, to);
    return { usual, figuresOf: (cut) => kept(figures, cut, work) };
  });
}

function kept<K extends object, V>(store: WeakMap<K, V>, key: K, work: (key: K) => V): V {
  const known = store.get(key);
  if (known !== undefined) return known;
  const value = work(key);
  store.set(key, value);
  return value;
}
