import type { PlanChange } from '../areas/change.ts';
import type { Move, PlacedMove } from '../dance/move.ts';
import { type LaidMove, laidOut } from '../dance/place.ts';
import type { RecordTime } from '../units.ts';
import type { Danced, Sight } from './finding.ts';
import { inOrder } from './sight.ts';

/** Moves on each side of what a change touches that are looked at with it: what a rule says of a move depends on its neighbours. */
const BESIDE = 2;

/** A dance before and after a change of placed moves, each with only the moves near it. */
interface Near {
  before: Sight;
  after: Sight;
  /** Whether other moves are danced than before, or another number of them. */
  usesOthers: boolean;
}

/** Seconds around the counts that are looked at in which a word may still belong to one of them. */
const AROUND = 1;

/** Whether a moment of the recording lies among the counts that are looked at. */
export function isNear({ score: { counts }, looked: { from, to } }: Danced, at: RecordTime): boolean {
  return (
    (from <= 0 || at > counts[from]!.record - AROUND) &&
    (to >= counts.length || at < counts[to]!.record + AROUND)
  );
}

/** Cuts out of a dance what lies near a change of placed moves, so that trying one costs as much in a long dance as in a short one. */
export class Nearby {
  private readonly entries: Map<string, PlacedMove>;
  /** Of each move, how often it is danced. */
  private readonly uses = new Map<string, number>();

  constructor(
    private readonly sight: Sight,
    private readonly danced: Danced,
  ) {
    this.entries = new Map(sight.board.plan.placed.map((entry) => [entry.id, entry]));
    for (const { move } of danced.whole) this.uses.set(move.id, (this.uses.get(move.id) ?? 0) + 1);
  }

  /**
   * The two sights between which rules about single moves are compared: what they say wrongly, because further moves are missing,
   * they say in both.
   * @param changes of placed moves, and new moves that are placed by them
   */
  of(changes: readonly PlanChange[]): Near {
    const was = new Map<string, PlacedMove>();
    const is = new Map<string, PlacedMove | null>();
    const moves = [...this.sight.board.plan.moves];
    for (const change of changes) {
      if (!('collection' in change)) continue;
      const { id, fields } = change;
      if (change.collection === 'moves') {
        moves.push({ ...fields, id } as Move);
        continue;
      }
      const entry = this.entries.get(id);
      if (entry) was.set(id, entry);
      const now = is.has(id) ? is.get(id) : entry;
      is.set(id, fields && ({ ...now, ...fields, id } as PlacedMove));
    }
    const left = [...is.values()].filter((entry) => entry !== null);
    const before = this.laid([...was.values()], moves);
    const after = this.laid(left, moves);
    const touched = [...before, ...after];
    const neighbours = this.neighbours(touched, new Set([...was.keys(), ...is.keys()]));
    const looked = {
      from: Math.min(...touched.map(({ at }) => at)),
      to: Math.max(...touched.map(({ end }) => end)),
    };
    return {
      before: this.near(neighbours, before, [...was.values()], this.sight.board.plan.moves, looked),
      after: this.near(neighbours, after, left, moves, looked),
      usesOthers: this.usesOthers(before, after),
    };
  }

  private laid(placed: PlacedMove[], moves: Move[]): LaidMove[] {
    return laidOut({ ...this.sight.board.plan, placed, moves }, this.danced.score);
  }

  private neighbours(touched: readonly LaidMove[], ids: ReadonlySet<string>): LaidMove[] {
    const { taken } = this.danced;
    const found = new Set<LaidMove>();
    for (const { preparationFrom, end } of touched) {
      for (const laid of taken.near(preparationFrom, end, BESIDE)) if (!ids.has(laid.id)) found.add(laid);
    }
    return inOrder([...found], []);
  }

  private near(
    neighbours: readonly LaidMove[],
    touched: readonly LaidMove[],
    entries: readonly PlacedMove[],
    moves: Move[],
    looked: Danced['looked'],
  ): Sight {
    const { sight, danced } = this;
    const isPlaced = ({ part }: LaidMove) => part === 'placed';
    const placed = neighbours.filter(isPlaced);
    const laid = [...placed, ...touched].sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));
    return {
      ...sight,
      board: {
        ...sight.board,
        plan: {
          ...sight.board.plan,
          moves,
          placed: [...placed.map(({ id }) => this.entries.get(id)!), ...entries],
        },
      },
      danced: {
        score: danced.score,
        grid: danced.grid,
        heard: danced.heard,
        ending: danced.ending,
        walk: danced.walk,
        used: danced.used,
        placements: danced.placements,
        taken: danced.taken,
        laid,
        whole: inOrder(
          laid.filter((one) => !one.removedByEdit),
          neighbours.filter((one) => !isPlaced(one)),
        ),
        looked,
      },
    };
  }

  private usesOthers(before: readonly LaidMove[], after: readonly LaidMove[]): boolean {
    const played = (laid: readonly LaidMove[]) => laid.filter((one) => !one.removedByEdit);
    const [was, is] = [played(before), played(after)];
    if (was.length !== is.length) return true;
    const uses = new Map<string, number>();
    for (const { move } of was) uses.set(move.id, (uses.get(move.id) ?? this.uses.get(move.id) ?? 0) - 1);
    for (const { move } of is) uses.set(move.id, (uses.get(move.id) ?? this.uses.get(move.id) ?? 0) + 1);
    return [...uses].some(([id, n]) => n > 0 !== (this.uses.get(id) ?? 0) > 0);
  }
}
