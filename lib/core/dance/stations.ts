import type { FloorScore, FloorSection } from '../edit/score.ts';
import type { Grid } from '../song/grid.ts';
import { basicOf } from './basics.ts';
import { countFactor, mayStartOn, suitsMetre } from './counts.ts';
import { solveEnding } from './ending.ts';
import { isFigure } from './kinds.ts';
import type { Move } from './move.ts';
import { newEntry } from './newEntry.ts';
import { type LaidMove, laidOut, lay } from './place.ts';
import type { DancePlan } from './plan.ts';
import { planWalkOn } from './walkOn.ts';

/** Slower than this, balance takes strength: seconds a count; common practice, no source. */
const SLOWEST = 1.6;

/** A place in the song where a move may be danced, or where a person has placed one. */
export interface Station {
  at: number;
  /** Same label, same music: the same phrase of sections with the same letter, else of the same kind. Empty for any other place. */
  label: string;
  section: FloorSection | null;
  /** A section begins; otherwise a later phrase of it. */
  opens: boolean;
  /** What may be danced here; `null` stands for the basic going on. A person's move is the only option of its place. */
  options: (LaidMove | null)[];
}

export interface Stage {
  stations: Station[];
  first: number;
  /** Where the ending is led, or the music ends. */
  last: number;
  /** What ends the dance, in order. */
  ending: LaidMove[];
  basic: Move | null;
  /** The figures from which is chosen. */
  figures: Move[];
  grid: Grid;
}

/**
 * All places for moves between the first step and the ending, in order; null without counts.
 * @param across metres that the floor has at its narrowest; null where nobody said
 */
export function stageOf(plan: DancePlan, score: FloorScore, across: number | null = null): Stage | null {
  const { grid } = plan;
  const walk = planWalkOn(plan, score);
  if (!grid || !walk.ok) return null;
  const first: number = walk.value.firstStep;
  const solved = solveEnding(plan, score);
  const ending = solved.ok ? solved.value.moves : [];
  const last: number = solved.ok ? solved.value.led.count : score.counts.length;
  const reserved = plan.ending?.moves ?? [];
  const fixed = laidOut(plan, score).filter((laid) => !laid.removedByEdit && laid.at < last);
  const figures = plan.moves.filter(
    (move) =>
      isDanceable(move, grid, score) &&
      !reserved.includes(move.id) &&
      (across === null || move.room <= across),
  );
  const stations: Station[] = fixed.map((laid) => {
    const section = score.sections.find((s) => s.counts > 0 && s.first === laid.at) ?? null;
    const label = section ? labelOf(section) : '';
    return { at: laid.at, label, section, opens: section !== null, options: [laid] };
  });
  for (const { at, label, section, opens } of placesOf(score)) {
    if (at <= first || at >= last || fixed.some((laid) => laid.at === at)) continue;
    const options = figures
      .flatMap((move) =>
        (opens ? [1, 2] : [1]).map((times) =>
          lay(move, at, grid, { id: newEntry(at), part: 'placed', times }),
        ),
      )
      .filter((laid) => fits(laid, score, grid, last));
    stations.push({ at, label, section, opens, options: [null, ...options] });
  }
  stations.sort((a, b) => a.at - b.at);
  return { stations, first, last, ending, basic: basicOf(plan), figures, grid };
}

/** Where sections begin, and the later phrases of those that have several. */
function placesOf(score: FloorScore): Omit<Station, 'options'>[] {
  return score.sections
    .filter(({ counts }) => counts > 0)
    .flatMap((section) => {
      const label = labelOf(section);
      const later = score.phrases.filter(
        (p) => p.section === section.index && p.first > section.first && p.counts > 0,
      );
      return [
        { at: section.first as number, label, section, opens: true },
        ...later.map((phrase, k) => ({
          ...{ at: phrase.first as number, label: `${label}/${k + 2}`, section, opens: false },
        })),
      ];
    });
}

const labelOf = ({ like, kind }: FloorSection): string => like || kind;

const isDanceable = (move: Move, grid: Grid, score: FloorScore): boolean => {
  const each = score.interval * countFactor(move, grid);
  return isFigure(move) && suitsMetre(move, grid) && each >= move.leastSeconds && each <= SLOWEST;
};

function fits(laid: LaidMove, score: FloorScore, grid: Grid, last: number): boolean {
  const begins = score.counts[laid.at]!;
  const ends = score.counts[laid.end - 1];
  return (
    ends !== undefined &&
    !ends.assumed &&
    ends.floor <= score.musicLength &&
    ends.phrase === begins.phrase &&
    laid.end <= last &&
    mayStartOn(laid.move, begins.inBar, grid) &&
    !score.seams.some((seam) => !seam.clean && seam.next > laid.at && seam.next < laid.end)
  );
}
