import type { Plan } from '../areas/plan.ts';
import type { Cut } from '../edit/edit.ts';
import type { FloorSeam } from '../edit/score.ts';
import type { SeamFigures, Usual } from '../edit/seam.ts';
import type { FeatureTable } from '../song/features.ts';
import type { Danced, Place } from './finding.ts';
import { joinMeasure } from './heard.ts';
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

/** A join in the song's own measure: the same figures as proposals are ranked by and the screens show. */
export function joinFigures(
  { grid }: Danced,
  heard: FeatureTable,
  cut: Cut,
): { figures: SeamFigures; usual: Usual } {
  const { usual, figuresOf } = joinMeasure(heard, grid);
  return { usual, figures: figuresOf(cut) };
}
