import type { PlanChange } from '../areas/change.ts';
import type { Plan } from '../areas/plan.ts';
import type { DancedThrough } from '../dance/dancedThrough.ts';
import type { Move, PlacedMove } from '../dance/move.ts';
import type { Place } from '../dance/path.ts';
import { byPlace, type LaidMove, layPlaced } from '../dance/place.ts';
import type { Cue } from '../song/section.ts';
import type { Danced, Rule, Sight } from './finding.ts';
import { inOrder, isPlacement, type Known, pathOfDance, throughOf } from './sight.ts';
import { firstFrom } from './taken.ts';

/**
 * Moves on each side of what a change touches that are looked at with it: what a rule says of a move depends on its neighbours, up to
 * the end of the longest chain of links.
 */
const BESIDE = 3;

/** A dance before and after a change of placed moves, each with only the moves near it; made when it is asked for. */
interface Near {
  before(local: NonNullable<Rule['local']>): Sight;
  after(local: NonNullable<Rule['local']>): Sight;
  /** What is known of the whole dance after the change; null where the same moves are danced, and as many. */
  uses: Known | null;
}

/** Placed moves that a change touches: as they are stored, where they lie, and the couple's list with them. */
interface Touched {
  entries: readonly PlacedMove[];
  laid: readonly LaidMove[];
  moves: Move[];
}

/** Seconds around the counts that are looked at in which a word may still belong to one of them. */
const AROUND = 1;

/** Cuts out of a dance what lies near a change of placed moves, so that trying one costs as much in a long dance as in a short one. */
export class Nearby {
  private readonly entries: Map<string, PlacedMove>;
  private readonly moves: ReadonlyMap<string, Move>;
  /** Of each move, how often it is danced. */
  private readonly uses = new Map<string, number>();
  /** Moves that somebody places or ends with, on the couple's list or not. */
  private readonly named: ReadonlySet<string>;
  /** Moves that the ending dances in another form: of these `used` has whichever comes first. */
  private readonly twoForms: ReadonlySet<string>;
  /** The song's words by time. */
  private readonly cues: Cue[];
  private readonly times: number[];
  private readonly coming = new Map<object, Move>();

  constructor(
    private readonly sight: Sight,
    private readonly danced: Danced,
  ) {
    const { placed, ending, moves, cues } = sight.board.plan;
    this.cues = cues.toSorted((a, b) => a.at - b.at);
    this.times = this.cues.map(({ at }) => at);
    this.entries = new Map(placed.map((entry) => [entry.id, entry]));
    this.moves = new Map(moves.map((move) => [move.id, move]));
    for (const { move } of danced.whole) this.uses.set(move.id, (this.uses.get(move.id) ?? 0) + 1);
    this.named = new Set([...placed.map(({ move }) => move), ...(ending?.moves ?? [])]);
    const own = new Set(moves);
    this.twoForms = new Set(
      danced.whole.flatMap(({ part, move }) => (part === 'ending' && !own.has(move) ? [move.id] : [])),
    );
  }

  /** Whether a move is on the couple's list. */
  has(move: string): boolean {
    return this.moves.has(move);
  }

  /**
   * Whether a move that is put on the couple's list has been missed there: then more alters than what is placed now.
   */
  isMissed(move: string): boolean {
    return this.named.has(move);
  }

  /**
   * The two sights between which rules about single moves are compared: what they say wrongly, because further moves are missing,
   * they say in both.
   * @param changes of placed moves, and new moves that are placed by them
   */
  of(changes: readonly PlanChange[]): Near {
    const was = new Map<string, PlacedMove>();
    const is = new Map<string, PlacedMove | null>();
    const come: Move[] = [];
    for (const change of changes) {
      if (!('collection' in change)) continue;
      const { id, fields } = change;
      if (change.collection === 'moves') {
        come.push(this.moveOf(id, fields!));
        continue;
      }
      const entry = this.entries.get(id);
      if (entry) was.set(id, entry);
      const now = is.has(id) ? is.get(id) : entry;
      is.set(id, fields && ({ ...now, ...fields, id } as PlacedMove));
    }
    const before = this.touched([...was.values()], []);
    const after = this.touched(
      [...is.values()].filter((entry) => entry !== null),
      come,
    );
    const touched = [...before.laid, ...after.laid];
    const neighbours = this.neighbours(touched, is);
    const looked = {
      from: Math.min(...touched.map(({ at }) => at)),
      to: Math.max(...touched.map(({ end }) => end)),
    };
    const cues = this.cuesNear(looked);
    const near = (those: Touched) => {
      const known: Partial<Record<NonNullable<Rule['local']>, Sight>> = {};
      return (local: NonNullable<Rule['local']>): Sight => {
        known[local] ??= this.near(local === 'beside' ? neighbours : [], those, cues, looked);
        return known[local];
      };
    };
    return { before: near(before), after: near(after), uses: this.usesAfter(before.laid, after.laid) };
  }

  /** A move that comes onto the list; the same object each time, so that what is known of its feet stays known. */
  private moveOf(id: string, fields: object): Move {
    const move = this.coming.get(fields) ?? ({ ...fields, id } as Move);
    this.coming.set(fields, move);
    return move;
  }

  private touched(entries: readonly PlacedMove[], come: readonly Move[]): Touched {
    const { score, grid } = this.danced;
    const { moves } = this.sight.board.plan;
    const laid = entries.flatMap((entry) => {
      const move = this.moves.get(entry.move) ?? come.find(({ id }) => id === entry.move);
      return move ? [layPlaced(entry, move, score, grid)] : [];
    });
    return { entries, laid, moves: come.length > 0 ? [...moves, ...come] : moves };
  }

  private neighbours(touched: readonly LaidMove[], but: ReadonlyMap<string, unknown>): LaidMove[] {
    const { taken } = this.danced;
    const found = new Set<LaidMove>();
    for (const { preparationFrom, end } of touched) {
      for (const laid of taken.near(preparationFrom, end, BESIDE)) if (!but.has(laid.id)) found.add(laid);
    }
    return inOrder([...found], []);
  }

  /** Words at the counts that are looked at; those of all music before the first of them, or after the last. */
  private cuesNear({ from, to }: Danced['looked']): Cue[] {
    const { cues, times } = this;
    const { counts } = this.danced.score;
    // Nothing is touched where a move that is placed is no longer on the list.
    if (from >= to) return [];
    const first = from <= 0 ? 0 : firstFrom(times, counts[from]!.record - AROUND);
    return cues.slice(
      first,
      to >= counts.length ? cues.length : firstFrom(times, counts[to]!.record + AROUND),
    );
  }

  private near(
    neighbours: readonly LaidMove[],
    { entries, laid: touched, moves }: Touched,
    cues: Cue[],
    looked: Danced['looked'],
  ): Sight {
    const { sight, danced } = this;
    const isPlaced = ({ part }: LaidMove) => part === 'placed';
    const placed = neighbours.filter(isPlaced);
    const laid = [...placed, ...touched].sort(byPlace);
    const whole = inOrder(
      laid.filter((one) => !one.removedByEdit),
      neighbours.filter((one) => !isPlaced(one)),
    );
    const plan: Plan = {
      ...sight.board.plan,
      moves,
      cues,
      placed: [...placed.map(({ id }) => this.entries.get(id)!), ...entries],
    };
    let through: DancedThrough | null = null;
    let path: Place[] | null = null;
    return {
      ...sight,
      board: { ...sight.board, plan },
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
        whole,
        get through() {
          through ??= throughOf(plan, this);
          return through;
        },
        get path() {
          path ??= pathOfDance(plan, this);
          return path;
        },
        looked,
      },
    };
  }

  private usesAfter(before: readonly LaidMove[], after: readonly LaidMove[]): Known | null {
    const { danced, uses } = this;
    const played = (laid: readonly LaidMove[]) => laid.filter((one) => !one.removedByEdit);
    const [was, is] = [played(before), played(after)];
    const known: Known = { ending: danced.ending, walk: danced.walk };
    if ([...was, ...is].some(({ move }) => this.twoForms.has(move.id))) return known;
    if (was.length === is.length && was.every(({ move }, i) => move === is[i]!.move)) return null;
    known.placements = danced.placements + is.filter(isPlacement).length - was.filter(isPlacement).length;
    const times = new Map<string, number>();
    for (const { move } of was) times.set(move.id, (times.get(move.id) ?? uses.get(move.id) ?? 0) - 1);
    for (const { move } of is) times.set(move.id, (times.get(move.id) ?? uses.get(move.id) ?? 0) + 1);
    const others = [...times].filter(([id, n]) => n > 0 !== (uses.get(id) ?? 0) > 0);
    if (others.length === 0)
      return known.placements === danced.placements ? null : { ...known, used: danced.used };
    const gone = new Set(others.flatMap(([id, n]) => (n === 0 ? [id] : [])));
    const come = others.flatMap(([id, n]) => (n > 0 ? [is.find(({ move }) => move.id === id)!] : []));
    known.used = inOrder(
      danced.used.filter(({ move }) => !gone.has(move.id)),
      come,
    );
    return known;
  }
}
