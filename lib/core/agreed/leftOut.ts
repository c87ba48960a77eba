import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { songDuration } from '../dance/clock.ts';
import { listeners } from '../dance/listeners.ts';
import { compileEdit } from '../edit/compile.ts';
import { clock, type FloorTime, type RecordTime } from '../units.ts';
import { playedEdit } from './played.ts';

/** Names told of one kind. */
const NAMED = 4;

/**
 * What a change of edit, grid or recording takes away that was played before, each in plain words, first things first: the first
 * step, placed moves, the closing pose, moments for others, and cue words that one of them listens for. What the change itself
 * removes from the board is no part of it. Times are of the music as it was played. Empty where nothing is taken away.
 */
export function leftOutBy(before: Board, after: Board): string[] {
  const [was, is] = [before.plan, after.plan];
  if (was.edit === is.edit && was.grid === is.grid && was.recording === is.recording) return [];
  const [playedBefore, playedAfter] = [clockOf(was), clockOf(is)];
  /** When it was played; null where it was not, still is, or is no longer on the board. */
  const lost = (then: RecordTime | null | undefined, now: RecordTime | null | undefined): FloorTime | null =>
    then == null || now == null || playedAfter(now) !== null ? null : playedBefore(then);
  const gone = <T extends { id: string; at: RecordTime }>(then: readonly T[], now: readonly T[]) => {
    const at = new Map(now.map((one) => [one.id, one.at]));
    return then
      .flatMap((one) => {
        const floor = lost(one.at, at.get(one.id));
        return floor === null ? [] : [{ ...one, floor }];
      })
      .sort((a, b) => a.floor - b.floor);
  };

  const step = lost(was.walkOn?.firstStep, is.walkOn?.firstStep);
  const names = new Map(was.moves.map(({ id, name }) => [id, name]));
  const moves = gone(was.placed, is.placed).map(({ move, floor }) => ({
    name: names.get(move) ?? 'a move',
    floor,
  }));
  const pose = lost(was.ending?.target.at, is.ending?.target.at);
  const moments = gone(before.show?.moments ?? [], after.show?.moments ?? []);
  const listened = new Set(listeners(was).map(({ cue }) => cue.id));
  const words = gone(was.cues, is.cues).filter(({ id }) => listened.has(id));
  return [
    ...(step === null ? [] : [`the first step at ${clock(step)}`]),
    ...told(
      moves.map(({ name, floor }) => [name, floor]),
      'move',
    ),
    ...(pose === null ? [] : [`the closing pose ${poseWords(was, pose)}`]),
    ...told(
      moments.map(({ who, what, floor }) => [`“${what || who}”`, floor]),
      'moment',
    ),
    ...told(
      words.map(({ word, floor }) => [`“${word}”`, floor]),
      'cue word',
    ),
  ];
}

const clockOf = (plan: Plan) => compileEdit(playedEdit(plan), { duration: songDuration(plan) }).toFloor;

function poseWords({ cues, ending }: Plan, floor: FloorTime): string {
  const cue = cues.find(({ id }) => id === ending?.target.cue);
  return cue ? `on “${cue.word}”` : `at ${clock(floor)}`;
}

/** `the move Hesitation at 1:10`, `2 moves: Underarm turn, Hesitation`; nothing of none. */
function told(lost: readonly (readonly [name: string, floor: FloorTime])[], kind: string): string[] {
  const [first] = lost;
  if (!first) return [];
  if (lost.length === 1) return [`the ${kind} ${first[0]} at ${clock(first[1])}`];
  const names = [...new Set(lost.map(([name]) => name))];
  const more = names.length > NAMED ? ' and others' : '';
  return [`${lost.length} ${kind}s: ${names.slice(0, NAMED).join(', ')}${more}`];
}
