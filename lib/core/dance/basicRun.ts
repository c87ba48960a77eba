import { footworkOf } from './automaton.ts';
import type { Move } from './move.ts';
import {
  anyFeet,
  beginOf,
  endOf,
  mirrored,
  mirroredSet,
  otherFoot,
  PAIRS,
  pairsIn,
  setOf,
  weighted,
} from './stance.ts';

/**
 * The basic is danced on and on between the moves, and may break off anywhere: which foot is free then depends on how far it has
 * come. Counts here are the basic's own.
 */

interface Told {
  lead: ReturnType<typeof weighted>;
  follow: ReturnType<typeof weighted>;
  entries: number[];
  /** What was asked before: by the feet, what may be free after so many counts. Checks and proposals ask the same again and again. */
  known: Map<number, number>[];
}
const read = new WeakMap<Move, Told>();

function toldOf(basic: Move): Told {
  const before = read.get(basic);
  if (before) return before;
  const [lead, follow] = [weighted(basic.steps ?? [], 'lead'), weighted(basic.steps ?? [], 'follow')];
  const half = basic.counts / 2;
  const first = lead.filter(({ at }) => at < half);
  const second = lead.filter(({ at }) => at >= half);
  const isMirror =
    first.length > 0 &&
    first.length === second.length &&
    first.every((step, i) => step.at + half === second[i]!.at && step.foot !== second[i]!.foot);
  const known = Array.from({ length: anyFeet + 1 }, () => new Map<number, number>());
  const told = { lead, follow, entries: isMirror ? [0, half] : [0], known };
  read.set(basic, told);
  return told;
}

/** Where in itself a basic may be begun: at its start, and half way where its second half is the first with the other foot. */
export const entriesOf = (basic: Move): readonly number[] => toldOf(basic).entries;

/** The pair that is free so far into the basic, when it was begun at its start on its own foot. */
function freeAt(basic: Move, phase: number): number {
  const told = toldOf(basic);
  const feet = [told.lead, told.follow].map((steps) => {
    const next = steps.find(({ at }) => at >= phase - 1e-9);
    return next ? next.foot : steps.length > 0 ? otherFoot(steps.at(-1)!.foot) : null;
  });
  return PAIRS.findIndex(([lead, follow]) => lead === feet[0] && follow === feet[1]);
}

/**
 * The feet that may be free after so many counts of the basic; 0 where it cannot be begun with any of these.
 * @param entry at which of its entries it is begun; any of them unless said
 */
export function feetThroughBasic(feet: number, basic: Move, counts: number, entry?: number): number {
  if (counts <= 0) return feet;
  if (entry !== undefined) return danced(feet, basic, counts, [entry]);
  const known = toldOf(basic).known[feet]!;
  const after = known.get(counts) ?? danced(feet, basic, counts);
  known.set(counts, after);
  return after;
}

function danced(
  feet: number,
  basic: Move,
  counts: number,
  from: readonly number[] = entriesOf(basic),
): number {
  const begins = freeAt(basic, 0);
  if (begins < 0) return untold(feet, basic, counts);
  const turned = basic.eitherFoot ? [false, true] : [false];
  const { flips, goesOn } = roundOf(basic);
  return pairsIn(feet).reduce((all, pair) => {
    for (const entry of from) {
      for (const turn of turned) {
        const is = (free: number, other: boolean) => (other ? mirrored(free) : free);
        if (is(freeAt(basic, entry), turn) !== pair) continue;
        const end = entry + counts;
        const rounds = Math.floor(end / basic.counts + 1e-9);
        if (rounds > 0 && !goesOn) return anyFeet;
        const phase = end - rounds * basic.counts;
        all |= 1 << is(freeAt(basic, phase), turn !== (flips && rounds % 2 === 1));
      }
    }
    return all;
  }, 0);
}

/** Each time round it begins with the foot that it left free; one that cannot be repeated so is not known any further. */
function roundOf(basic: Move): { flips: boolean; goesOn: boolean } {
  const begins = freeAt(basic, 0);
  const round = footworkOf(basic)[begins] ?? 0;
  const flips = round === 1 << mirrored(begins);
  return { flips, goesOn: round === 1 << begins || (flips && basic.eitherFoot === true) };
}

/** One way to begin a basic. */
export interface Begun {
  /** The pair of feet that is free. */
  pair: number;
  /** At which of its entries. */
  entry: number;
  isMirrored: boolean;
  /** The next time round it is danced mirrored. */
  changesFoot: boolean;
}

/** The ways in which a basic that tells its steps can be begun with any of these feet, first as it is told. */
export function beginningsOf(basic: Move, feet: number): Begun[] {
  const changesFoot = basic.eitherFoot === true && roundOf(basic).flips;
  return (basic.eitherFoot ? [false, true] : [false]).flatMap((isMirrored) =>
    entriesOf(basic).flatMap((entry) => {
      const free = freeAt(basic, entry);
      const pair = free >= 0 && isMirrored ? mirrored(free) : free;
      return pair >= 0 && feet & (1 << pair) ? [{ pair, entry, isMirrored, changesFoot }] : [];
    }),
  );
}

/** A basic that tells no steps of one of the two is known at its beginning and its end. */
function untold(feet: number, basic: Move, counts: number): number {
  if ((feet & setOf(beginnings(basic))) === 0) return 0;
  const whole = Math.abs(counts / basic.counts - Math.round(counts / basic.counts)) < 1e-9;
  return whole ? endOf(basic).feet : anyFeet;
}

const beginnings = (basic: Move): number[] => {
  const { feet } = beginOf(basic);
  return pairsIn(basic.eitherFoot ? feet | mirroredSet(feet) : feet);
};
