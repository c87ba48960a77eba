import type { FloorScore } from '../edit/score.ts';
import { decodeFeatures } from '../song/features.ts';
import { Joins } from './joins.ts';
import { type Manner, manners, pointsOf } from './manners.ts';
import type { Move } from './move.ts';
import { isNewEntry } from './newEntry.ts';
import { type LaidMove, storedAt } from './place.ts';
import type { DanceChange, DancePlan } from './plan.ts';
import { levelOf, mostToLearn, type Readiness } from './practice.ts';
import { proposalWords } from './proposalWords.ts';
import { type Stage, stageOf } from './stations.ts';
import {
  type Choice,
  choicesOf,
  finished,
  keyOf,
  reachOf,
  type Setting,
  settingFor,
  stepOn,
  type Way,
} from './ways.ts';

/** Ways that are followed from station to station; where there are more, the best of them. */
const BEAM = 60;

/** What the couple can, have and want, as far as somebody said. */
export interface Wishes {
  readiness?: readonly Readiness[];
  lessonsLeft?: number | null;
  /** Metres that the floor has at its narrowest. */
  across?: number | null;
}

export interface ProposedDance {
  manner: Manner;
  changes: DanceChange[];
  /** The dance in one sentence. */
  sentence: string;
  /** What is danced where, a sentence each. */
  words: string[];
  /** By the points of its manner. */
  worth: number;
  /** All ways were compared, and none is worth more; else only the best so far at each place were followed. */
  exact: boolean;
}

/** Three dances, or fewer where there are not so many; a sentence where there is none. */
export interface Proposed {
  dances: ProposedDance[];
  problem: string;
}

/** A stage set up for one manner. */
export function settingOf(
  stage: Stage,
  plan: DancePlan,
  score: FloorScore,
  { readiness = [], lessonsLeft = null }: Wishes,
  manner: Manner,
  joins = new Joins(stage),
): Setting {
  const most = lessonsLeft === null ? Number.POSITIVE_INFINITY : mostToLearn(lessonsLeft);
  const showpiece = showpieceOf(stage, plan, score, readiness);
  return settingFor(stage, pointsOf[manner], readiness, most, showpiece, joins);
}

/**
 * Fills the floor score from the couple's moves, in three manners: the best way by the points of each, found by dynamic programming
 * over the places (Bellman 1957), bounded to the best so far where there are too many (beam search, Lowerre 1976). What a person
 * placed stays; the ending and its moves are reserved. Each step tells which part of the work is done.
 */
export function* proposing(
  plan: DancePlan,
  score: FloorScore,
  wishes: Wishes = {},
): Generator<number, Proposed> {
  const stage = stageOf(plan, score, wishes.across ?? null);
  const dances: ProposedDance[] = [];
  if (!stage) return { dances, problem: '' };
  const taken: string[][] = [];
  const joins = new Joins(stage);
  for (const [i, manner] of manners.entries()) {
    const setting = settingOf(stage, plan, score, wishes, manner, joins);
    const search = bestWays(setting);
    let step = search.next();
    while (!step.done) {
      yield (i + step.value) / manners.length;
      step = search.next();
    }
    const { ways, exact } = step.value;
    if (ways.length === 0)
      return { dances, problem: 'Two of the moves that you placed overlap: part them first.' };
    const best = ways.find((way) => {
      const dance = danceOf(choicesOf(way, setting));
      return taken.every((other) => differs(dance, other));
    });
    if (!best) continue;
    const chosen = choicesOf(best, setting);
    taken.push(danceOf(chosen));
    const changes = changesOf(chosen, plan, score);
    if (changes.length === 0) continue;
    dances.push({ manner, changes, worth: best.worth, exact, ...proposalWords(manner, chosen, stage) });
  }
  return { dances, problem: '' };
}

/** The same at one go. */
export function proposeDances(plan: DancePlan, score: FloorScore, wishes: Wishes = {}): Proposed {
  const steps = proposing(plan, score, wishes);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/**
 * All ways that are left in the end, the best first; `exact` where none was let go of but for a better one like it.
 * @param beam how many are followed at most
 */
export function* bestWays(setting: Setting, beam = BEAM): Generator<number, { ways: Way[]; exact: boolean }> {
  const { stations } = setting.stage;
  let ways = [setting.begin];
  let exact = true;
  for (const [i, station] of stations.entries()) {
    const best = new Map<string, Way>();
    for (const way of ways) {
      for (const option of station.options) {
        const next = stepOn(way, option, i, setting);
        if (!next) continue;
        const key = keyOf(next, i, setting);
        const other = best.get(key);
        if (!other || next.worth > other.worth) best.set(key, next);
      }
    }
    ways = [...best.values()];
    if (ways.length > beam) {
      exact = false;
      const reach = new Map(ways.map((way) => [way, reachOf(way, i, setting)]));
      ways = ways.sort((a, b) => reach.get(b)! - reach.get(a)!).slice(0, beam);
    }
    yield (i + 1) / stations.length;
  }
  return { ways: ways.map((way) => finished(way, setting)).sort((a, b) => b.worth - a.worth), exact };
}

/** What is danced at each place, for telling dances apart. */
const danceOf = (chosen: readonly Choice[]): string[] =>
  chosen.map(({ laid }) => (laid && isNewEntry(laid.id) ? `${laid.move.id}x${laid.times}` : ''));

/** A dance is another one where at least two places, and a fifth of those with a move, are danced otherwise. */
function differs(one: readonly string[], other: readonly string[]): boolean {
  const danced = one.filter((move, i) => move !== '' || other[i] !== '').length;
  const otherwise = one.filter((move, i) => move !== other[i]).length;
  return otherwise >= Math.min(danced, Math.max(2, danced / 5)) && otherwise > 0;
}

/** The most demanding of the moves that go best, and where the strongest chorus begins: the loudest, else the last. */
function showpieceOf(
  { figures, first, last }: Stage,
  plan: DancePlan,
  score: FloorScore,
  readiness: readonly Readiness[],
): { move: string; at: number } | null {
  const level = ({ id }: Move) => levelOf(readiness, id);
  const demanding = figures.filter(({ difficulty }) => difficulty > 1);
  const [move] = (demanding.length > 0 ? demanding : figures).toSorted(
    (a, b) => level(b) - level(a) || b.difficulty - a.difficulty || (a.id < b.id ? -1 : 1),
  );
  const choruses = score.sections.filter(
    (s) => s.kind === 'chorus' && s.counts > 0 && s.first > first && s.first < last,
  );
  const table = plan.features ? decodeFeatures(plan.features) : null;
  const loud = ({ record, floor, end }: (typeof choruses)[number]): number => {
    if (!table) return 0;
    const from = Math.floor(record / table.frame);
    const frames = table.loudness.slice(from, from + Math.max(1, Math.round((end - floor) / table.frame)));
    return frames.reduce((sum, one) => sum + one, 0) / Math.max(1, frames.length);
  };
  const strongest = choruses.reduce<(typeof choruses)[number] | null>(
    (best, one) => (!best || loud(one) >= loud(best) ? one : best),
    null,
  );
  return move && strongest ? { move: move.id, at: strongest.first } : null;
}

function changesOf(chosen: readonly Choice[], plan: DancePlan, score: FloorScore): DanceChange[] {
  const changes: DanceChange[] = [];
  const known = new Set(plan.moves.map(({ id }) => id));
  const put = ({ id, at, move, times }: LaidMove) =>
    changes.push({ collection: 'placed', id, fields: { move: move.id, at: storedAt(score, at), times } });
  for (const { laid, links } of chosen) {
    for (const link of links) {
      const { id, ...fields } = link.move;
      if (!known.has(id)) changes.push({ collection: 'moves', id, fields });
      known.add(id);
      put(link);
    }
    if (laid && isNewEntry(laid.id)) put(laid);
  }
  return changes;
}
