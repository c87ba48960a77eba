import type { FloorScore, FloorSection } from '../edit/score.ts';
import type { Grid } from '../song/grid.ts';
import { basicOf } from './basics.ts';
import { countFactor, mayStartOn, onBoard, suitsMetre } from './counts.ts';
import { solveEnding } from './ending.ts';
import { isFigure } from './kinds.ts';
import type { Move } from './move.ts';
import { newEntry } from './newEntry.ts';
import { type LaidMove, laidOut, lay } from './place.ts';
import type { DancePlan } from './plan.ts';
import { planWalkOn } from './walkOn.ts';

/** A place in the song where a move may be danced, or where a person has placed one. */
interface Station {
  at: number;
  /** Same label, same music: sections with the same letter, else of the same kind. Empty for what is no section change. */
  label: string;
  section: FloorSection | null;
  /** What may be danced here; `null` stands for the basic going on. A person's move is the only option of its place. */
  options: (LaidMove | null)[];
}

export interface Stage {
  stations: Station[];
  first: number;
  /** Where the ending is led, or the music ends. */
  last: number;
  basic: Move | null;
  grid: Grid;
}

/** All places for moves between the first step and the ending, in order; null without counts. */
export function stageOf(plan: DancePlan, score: FloorScore): Stage | null {
  const { grid } = plan;
  const walk = planWalkOn(plan, score);
  if (!grid || !walk.ok) return null;
  const first: number = walk.value.firstStep;
  const solved = solveEnding(plan, score);
  const last: number = solved.ok ? solved.value.led.count : score.counts.length;
  const reserved = plan.ending?.moves ?? [];
  const fixed = laidOut(plan, score).filter((laid) => !laid.removedByEdit && laid.at < last);
  const moves = plan.moves.filter((move) => isDanceable(move, grid, score) && !reserved.includes(move.id));
  const stations: Station[] = fixed.map((laid) => {
    const section = score.sections.find((s) => s.counts > 0 && s.first === laid.at) ?? null;
    return { at: laid.at, label: section ? labelOf(section) : '', section, options: [laid] };
  });
  for (const section of score.sections) {
    const at: number = section.first;
    if (section.counts === 0 || at <= first || at >= last || fixed.some((laid) => laid.at === at)) continue;
    const options = moves
      .flatMap((move) =>
        [1, 2].map((times) => lay(move, at, grid, { id: newEntry(at), part: 'placed', times })),
      )
      .filter((laid) => fits(laid, score, grid, last));
    stations.push({ at, label: labelOf(section), section, options: [null, ...options] });
  }
  stations.sort((a, b) => a.at - b.at);
  return { stations, first, last, basic: basicOf(plan), grid };
}

const labelOf = ({ like, kind }: FloorSection): string => like || kind;

const isDanceable = (move: Move, grid: Grid, score: FloorScore): boolean =>
  isFigure(move) && suitsMetre(move, grid) && score.interval * countFactor(move, grid) >= move.leastSeconds;

function fits(laid: LaidMove, score: FloorScore, grid: Grid, last: number): boolean {
  const begins = score.counts[laid.at]!;
  const ends = score.counts[laid.end - 1];
  return (
    ends !== undefined &&
    ends.phrase === begins.phrase &&
    laid.end <= last &&
    mayStartOn(laid.move, begins.inBar, grid) &&
    !score.seams.some((seam) => !seam.clean && seam.next > laid.at && seam.next < laid.end)
  );
}

/** Counts of a stretch that no whole basic fills. */
export const leftOver = (counts: number, { basic, grid }: Stage): number =>
  basic ? counts % onBoard(basic, basic.counts, grid) : 0;
