import { stanceAfter } from './automaton.ts';
import { entriesOf } from './basicRun.ts';
import { onBoard } from './counts.ts';
import { joinOf, stanceAfterLaid, throughBasic } from './dancedThrough.ts';
import { mendingOf } from './mending.ts';
import type { Move } from './move.ts';
import type { LaidMove } from './place.ts';
import type { Stance } from './stance.ts';
import type { Stage } from './stations.ts';

/** How a move is joined to what comes before: where the couple stand as it begins, and what that took. */
export interface Joined {
  stance: Stance;
  /** After the move, danced once. */
  after: Stance;
  links: readonly Move[];
  /** Counts of the links, and of the basic before them. */
  counts: number;
  basic: number;
  holdChanges: number;
  /** It cannot be danced, and no link makes it fit. */
  broken: boolean;
}

/** Counts of a stretch that no basic fills, whole or by half where it can be begun there. */
export function leftOver(counts: number, { basic, grid }: Pick<Stage, 'basic' | 'grid'>): number {
  if (!basic || counts <= 0) return 0;
  return counts % (onBoard(basic, basic.counts, grid) / entriesOf(basic).length);
}

/** Joins of one stage, each worked out once: as it is, else by links, else broken. */
export class Joins {
  private readonly known = new Map<string, Joined>();

  constructor(private readonly stage: Pick<Stage, 'basic' | 'grid'>) {}

  of(from: Stance, gap: number, move: Move): Joined {
    const key = `${from.feet} ${from.hold} ${from.position} ${gap} ${move.id}`;
    const before = this.known.get(key);
    if (before) return before;
    const joined = this.made(from, gap, move);
    this.known.set(key, joined);
    return joined;
  }

  /** How they stand after a move, danced as often as it is placed. */
  afterLaid(from: Stance, laid: LaidMove): Stance {
    return stanceAfterLaid(from, laid, this.stage.basic, this.stage.grid);
  }

  private made(from: Stance, gap: number, move: Move): Joined {
    const { basic, grid } = this.stage;
    const join = joinOf(from, gap, move, basic, grid);
    const plain = {
      stance: join.stance,
      after: stanceAfter(join.stance, move),
      ...{ links: [], counts: 0, basic: gap },
      holdChanges: Number(join.intoBasic) + Number(join.outOfBasic),
      broken: join.ofBasic.length + join.ofMove.length > 0,
    };
    if (!plain.broken) return plain;
    const mending = mendingOf({ after: from, gap, from: join.stance, next: { move } }, basic, grid);
    if (!mending?.fits) return plain;
    const kept = mending.basic > 0 ? throughBasic(from, basic, mending.basic, grid).stance : from;
    const stance = mending.links.reduce(stanceAfter, kept);
    const { links, counts } = mending;
    return {
      ...{ stance, after: stanceAfter(stance, move), links, counts },
      ...{ basic: mending.basic, holdChanges: 0, broken: false },
    };
  }
}
