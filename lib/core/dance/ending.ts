import { nearestCount } from '../edit/nearestCount.ts';
import type { FloorScore } from '../edit/score.ts';
import { bad, good, type Result } from '../result.ts';
import type { Cue } from '../song/section.ts';
import { type Count, type FloorTime, floorTime, type RecordTime } from '../units.ts';
import { floorOf } from './clock.ts';
import { onBoard } from './counts.ts';
import { fadeDb } from './fade.ts';
import type { Ending, Move } from './move.ts';
import { type LaidMove, lay } from './place.ts';
import type { DancePlan } from './plan.ts';
import { inSaferForm } from './saferForm.ts';

/** A signal is heard at least this long before the leading begins, and at most this long; common practice, no source. */
export const SIGNAL_LEAST = 0.4;
export const SIGNAL_MOST = 12;

/** An ending as it begins: three seconds are the least that a photograph of the pose needs (common practice, no source). */
export const usualEnding: Omit<Ending, 'target'> = {
  moves: [],
  hold: 4,
  signal: null,
  facing: '',
  safer: false,
};

interface Signal {
  cue: Cue;
  floor: FloorTime;
  /** Seconds from the word to the count on which the ending is led. */
  before: number;
  /** Chosen here, not by a person. */
  proposed: boolean;
}

export interface SolvedEnding {
  /** In order; the last one lands on the target. */
  moves: LaidMove[];
  /** The count on which the closing pose lands, its floor time, and where it is asked to land. */
  landing: {
    count: Count;
    floor: FloorTime;
    target: FloorTime;
    secondsOff: number;
  };
  /** The count on which it is led, i.e. on which the first move's preparation begins. */
  led: { count: Count; floor: FloorTime };
  /** The word or sound shortly before that which tells them; null where none lies in reach. */
  signal: Signal | null;
  /** How long the pose is kept, and how much of that after the last sound. */
  kept: { seconds: number; until: FloorTime; afterSound: number };
  /** Level of the music at the landing against before the fade, dB; null without a fade. */
  audibleDb: number | null;
  words: string;
}

/**
 * The ending, solved backwards from its target: the last move lands on the count nearest to it, each move before ends where
 * the next begins, and the first is led during the basic before. Problems: `no-ending`, `no-moves`, `target-left-out`,
 * `too-early`.
 */
export function solveEnding(plan: DancePlan, score: FloorScore): Result<SolvedEnding> {
  const { ending, grid } = plan;
  if (!ending || !grid)
    return bad('no-ending', 'There is no ending yet: choose the word or sound to land on.');
  const moves = ending.moves.map((id) => plan.moves.find((move) => move.id === id));
  if (moves.length === 0 || moves.some((move) => !move)) {
    return bad('no-moves', 'The ending has no closing pose yet: choose one of your moves for it.');
  }
  const landing = landingCount(plan, score, ending.target.at);
  if (!landing) {
    return bad('target-left-out', 'The edit leaves out the moment that the closing pose should land on.');
  }
  const chosen = (moves as Move[]).map((move, i) =>
    ending.safer && i === moves.length - 1 ? inSaferForm(move) : move,
  );
  const laid = laidBackwards(chosen, landing.count.index, plan);
  const first = laid[0]!;
  if (first.preparationFrom < 0) {
    return bad('too-early', 'The ending is longer than the music before its closing pose: land later.');
  }
  const led = score.counts[first.preparationFrom]!;
  const at = landing.count.floor;
  const until = floorTime(at + ending.hold);
  const signal = signalFor(plan, ending, led.floor);
  return good({
    moves: laid,
    landing: {
      count: landing.count.index,
      floor: at,
      target: landing.target,
      secondsOff: at - landing.target,
    },
    led: { count: led.index, floor: led.floor },
    signal,
    kept: {
      seconds: ending.hold,
      until,
      afterSound: Math.max(0, until - Math.max(at, score.musicLength)),
    },
    audibleDb: fadeDb(plan.edit, score, at),
    words: wordsFor(laid, signal, ending, plan),
  });
}

/** The count meant by a landing target, and the target's floor time; null where the edit removed it. */
function landingCount(plan: DancePlan, score: FloorScore, target: RecordTime) {
  const count = nearestCount(score, target);
  const floor = floorOf(plan, target);
  if (count) return { count, target: floor ?? count.floor };
  // A stretch without counts: the nearest count there is, and the seconds off say the rest.
  if (floor === null || score.counts.length === 0) return null;
  const near = score.counts.reduce((a, b) => (Math.abs(b.floor - floor) < Math.abs(a.floor - floor) ? b : a));
  return { count: near, target: floor };
}

function laidBackwards(moves: Move[], landing: number, { grid }: DancePlan): LaidMove[] {
  const laid: LaidMove[] = [];
  let end = landing;
  for (let i = moves.length - 1; i >= 0; i--) {
    const move = moves[i]!;
    const isLast = i === moves.length - 1;
    const lands = isLast && move.landsOn !== null;
    const at = end - onBoard(move, lands ? move.landsOn! - 1 : move.counts, grid!);
    laid.unshift(lay(move, at, grid!, { id: `ending-${i}`, part: 'ending' }));
    end = at;
  }
  return laid;
}

/** The cue that a person chose, else the last one in reach before the ending is led. */
function signalFor(plan: DancePlan, ending: Ending, led: FloorTime): Signal | null {
  const heard = plan.cues
    .flatMap((cue) => {
      const floor = floorOf(plan, cue.at);
      return floor === null ? [] : [{ cue, floor, before: led - floor }];
    })
    .sort((a, b) => a.before - b.before);
  if (ending.signal !== null) {
    const chosen = heard.find(({ cue }) => cue.id === ending.signal);
    return chosen ? { ...chosen, proposed: false } : null;
  }
  const near = heard.find(({ before }) => before >= SIGNAL_LEAST && before <= SIGNAL_MOST);
  return near ? { ...near, proposed: true } : null;
}

function wordsFor(laid: LaidMove[], signal: Signal | null, ending: Ending, plan: DancePlan): string {
  const names = laid.map(({ move }) => move.name.toLowerCase());
  const order = names.length > 1 ? `${names.slice(0, -1).join(', ')}, then ${names.at(-1)}` : names[0]!;
  const cue = plan.cues.find(({ id }) => id === ending.target.cue);
  const target = cue ? ` on “${cue.word}”` : '';
  const begin = signal ? `Listen for “${signal.cue.word}”: ` : '';
  return `${begin}${order}${target}, kept ${ending.hold} s.`;
}
