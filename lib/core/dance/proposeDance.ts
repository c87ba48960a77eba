import type { FloorScore } from '../edit/score.ts';
import { isNewEntry } from './newEntry.ts';
import { type LaidMove, storedAt } from './place.ts';
import type { DanceChange, DancePlan } from './plan.ts';
import type { Readiness } from './practice.ts';
import { leftOver, type Stage, stageOf } from './stations.ts';

/**
 * What makes a dance good, in points: common practice, no source. A move on a section change is worth most; the same change
 * gets the same move, because that is easier to remember.
 */
export const points = {
  marked: 10,
  sameAgain: 6,
  anotherMove: -6,
  sameTwiceRunning: -3,
  holdBroken: -8,
  leftOver: -1,
  eachDifficulty: -1,
  notYetAlone: -2,
} as const;

export interface DanceProposal {
  changes: DanceChange[];
  /** What is danced where and why, a sentence each. */
  words: string[];
  /** By `points`. */
  worth: number;
}

/** A way through the stations so far: what the future depends on is in its key, the rest is its history. */
interface Way {
  worth: number;
  last: LaidMove | null;
  /** Move and times that each label got first; '' for the basic. */
  given: ReadonlyMap<string, string>;
  chosen: readonly (LaidMove | null)[];
}

/**
 * Fills the floor score from the couple's moves: the best of all ways by `points`, found by dynamic programming over the
 * section changes. Of ways with the same last move and the same moves given to the kinds of section that come again, only
 * the best can be part of the best dance. What a person placed stays; the ending and its moves are reserved.
 */
export function proposeDance(
  plan: DancePlan,
  score: FloorScore,
  readiness: readonly Readiness[] = [],
): DanceProposal {
  const stage = stageOf(plan, score);
  if (!stage) return { changes: [], words: [], worth: 0 };
  let ways: Way[] = [{ worth: 0, last: null, given: new Map(), chosen: [] }];
  for (const [i, station] of stage.stations.entries()) {
    const coming = new Set(stage.stations.slice(i + 1).map(({ label }) => label));
    const best = new Map<string, Way>();
    for (const way of ways) {
      for (const option of station.options) {
        const next = step(way, option, i, stage, readiness);
        if (!next) continue;
        const remembered = [...next.given].filter(([label]) => coming.has(label)).sort();
        const key = JSON.stringify([
          next.last && [next.last.id, next.last.move.id, next.last.times],
          remembered,
        ]);
        const other = best.get(key);
        if (!other || next.worth > other.worth) best.set(key, next);
      }
    }
    ways = [...best.values()];
  }
  const finished = ways.map((way) => ({ way, worth: way.worth + atTheEnd(way, stage) }));
  const best = finished.reduce<(typeof finished)[number] | null>(
    (a, b) => (!a || b.worth > a.worth ? b : a),
    null,
  );
  if (!best)
    return { changes: [], words: ['Two of the moves that you placed overlap: part them first.'], worth: 0 };
  return { ...asChanges(best.way, stage, score), worth: best.worth };
}

/** One station further; null where the option does not fit after what came before. */
function step(
  way: Way,
  option: LaidMove | null,
  index: number,
  stage: Stage,
  readiness: readonly Readiness[],
): Way | null {
  const { label, at } = stage.stations[index]!;
  const from = way.last?.end ?? stage.first;
  // A person's moves are taken as they are; a new one must have room to be led, and leave the next one its own.
  const isNew = option !== null && isNewEntry(option.id);
  const afterNew = way.last !== null && isNewEntry(way.last.id);
  if (option && (isNew || afterNew) && option.preparationFrom < from) return null;
  const worth = way.worth + worthOf(way, option, label, stage, at, readiness);
  const given = new Map(way.given);
  if (label && !given.has(label)) given.set(label, nameOf(option));
  return { worth, last: option ?? way.last, given, chosen: [...way.chosen, option] };
}

const nameOf = (option: LaidMove | null): string => (option ? `${option.move.id} x${option.times}` : '');

function worthOf(
  way: Way,
  option: LaidMove | null,
  label: string,
  stage: Stage,
  at: number,
  readiness: readonly Readiness[],
): number {
  const before = way.given.get(label);
  const same =
    label === '' || before === undefined
      ? 0
      : before === nameOf(option)
        ? points.sameAgain
        : points.anotherMove;
  if (!option) return before === undefined ? 0 : same;
  const { move } = option;
  const from = way.last?.end ?? stage.first;
  const room = Math.max(0, at - from);
  let worth = same + (label ? points.marked : 0);
  worth += points.leftOver * leftOver(room, stage);
  worth += points.eachDifficulty * (move.difficulty - 1);
  if ((readiness.find(({ id }) => id === move.id)?.level ?? 2) < 2) worth += points.notYetAlone;
  if (way.last) {
    // With basic between, it is the basic's hold that has to be found and left.
    const hold = room > 0 && stage.basic ? stage.basic.holdAfter : way.last.move.holdAfter;
    const left = room > 0 && stage.basic ? way.last.move.holdAfter !== stage.basic.holdBefore : false;
    if (hold !== move.holdBefore || left) worth += points.holdBroken;
    if (way.last.move.id === move.id && before !== nameOf(option)) worth += points.sameTwiceRunning;
  } else if (stage.basic && stage.basic.holdAfter !== move.holdBefore) worth += points.holdBroken;
  return worth;
}

const atTheEnd = (way: Way, stage: Stage): number =>
  points.leftOver * leftOver(Math.max(0, stage.last - (way.last?.end ?? stage.first)), stage);

/** Worth of a whole choice, an option's index a station; null when it does not fit. For whoever wants to compare. */
export function worthOfChoice(
  stage: Stage,
  choice: readonly number[],
  readiness: readonly Readiness[] = [],
): number | null {
  let way: Way | null = { worth: 0, last: null, given: new Map(), chosen: [] };
  for (const [i, option] of choice.entries()) {
    way = step(way, stage.stations[i]!.options[option]!, i, stage, readiness);
    if (!way) return null;
  }
  return way.worth + atTheEnd(way, stage);
}

function asChanges(way: Way, stage: Stage, score: FloorScore): Pick<DanceProposal, 'changes' | 'words'> {
  const changes: DanceChange[] = [];
  const places = new Map<string, string[]>();
  for (const [i, option] of way.chosen.entries()) {
    if (option === null || !isNewEntry(option.id)) continue;
    const at = storedAt(score, option.at);
    changes.push({
      collection: 'placed',
      id: option.id,
      fields: { move: option.move.id, at, times: option.times },
    });
    const what = `${option.move.name}${option.times > 1 ? ', twice' : ''}`;
    places.set(what, [...(places.get(what) ?? []), stage.stations[i]!.section!.name]);
  }
  const words = [...places].map(([what, where]) => `${what}: ${listed(where)}.`);
  const unmarked = stage.stations
    .filter((s, i) => s.section && way.chosen[i] === null)
    .map((s) => s.section!.name);
  if (unmarked.length > 0) words.push(`The basic goes on through ${listed(unmarked)}.`);
  if (changes.length > 0)
    words.push('The same change has the same move wherever it fits; the basic fills what is between.');
  return { changes, words };
}

const listed = (names: string[]): string =>
  names.length > 1 ? `${names.slice(0, -1).join(', ')} and ${names.at(-1)}` : names[0]!;
