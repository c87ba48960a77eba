import type { Board } from '../areas/board.ts';
import { changePlan, type PlanChange } from '../areas/change.ts';
import { currentDigest, standingYes } from './answerState.ts';

/** What settling song and edit holds fast, besides the words that people listen for. */
const SETTLED: readonly string[] = [
  'recording',
  'heard',
  'features',
  'imprint',
  'grid',
  'sections',
  'phraseBars',
  'edit',
];

/**
 * What stands against taking back one's own changes now: what was settled since, what the DJ has said yes to, what others dance or
 * listen for. The end of a sentence; empty when nothing does.
 */
export function against(board: Board, changes: readonly PlanChange[]): string {
  const { plan } = board;
  const then = changePlan(plan, changes);
  const ofSong = changes.some((one) => SETTLED.includes('register' in one ? one.register : one.collection));
  if (plan.settled && ofSong) return 'song and edit are settled';
  const yes = standingYes(board);
  if (yes && currentDigest(then) !== currentDigest(plan))
    return `${yes.by || 'the DJ'} has said yes to the present edit. Change it on the song page, if you must`;
  const danced = [...then.placed.map(({ move }) => move), ...(then.ending?.moves ?? [])];
  const move = plan.moves.find(({ id }) => danced.includes(id) && !then.moves.some((one) => one.id === id));
  if (move) return `“${move.name}” is danced on the sheet`;
  const heard = [then.ending?.target.cue, then.ending?.signal];
  const cue = plan.cues.find(({ id }) => heard.includes(id) && !then.cues.some((one) => one.id === id));
  return cue ? `the ending listens for “${cue.word}”` : '';
}
