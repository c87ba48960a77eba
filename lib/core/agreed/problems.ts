import type { DjAnswer } from '../areas/answer.ts';
import type { Board } from '../areas/board.ts';
import type { Show } from '../areas/show.ts';
import { hashOf } from '../edit/canonical.ts';
import { digestOf } from '../edit/digest.ts';
import { djPrinted } from './djPrinted.ts';
import { entryFacts, keptFacts } from './entry.ts';
import { currentDigest } from './played.ts';

const LOOK_AGAIN = 'What is to be played has changed meanwhile: look at it again, then say it anew.';

/**
 * Why an answer that is new cannot be taken, as a sentence that says what to do; null where it is for exactly the board as it is. A yes
 * and a suggestion carry what was read when they were given: both edit and facts must be the present ones, and be what they say.
 * @param board as it is before the answer is in it
 */
export function yesProblem(
  board: Board,
  { digest, edit, covers, plays }: Pick<DjAnswer, 'digest' | 'edit' | 'covers' | 'plays'>,
): string | null {
  const { recording } = board.plan;
  if (!recording) return 'There is no song on this board yet: wait until there is one.';
  if (digest !== currentDigest(board.plan) || digest !== digestOf(edit, recording)) return LOOK_AGAIN;
  if (!covers) return 'This page is an older one: load it anew, look, then say it again.';
  const isNow = covers.digest === djPrinted(board, plays).digest && covers.digest === hashOf(covers.facts);
  return isNow ? null : LOOK_AGAIN;
}

/**
 * Why what the DJ said cannot become what is handed in; null where it may. What was said stays said, for the others rely on it and
 * versions are counted by it: nobody changes or removes an answer, the DJ neither. They take it back by saying something else.
 * @param before the answer of this id; undefined where there is none
 * @param after the same as it would be; undefined where it would be gone
 */
export function answerProblem(
  board: Board,
  before: DjAnswer | undefined,
  after: DjAnswer | undefined,
): string | null {
  if (before) {
    const same = after !== undefined && hashOf(plain(before)) === hashOf(plain(after));
    return same ? null : 'What was said stays as it was said: suggest something else, or write a remark.';
  }
  return after ? yesProblem(board, after) : null;
}

/** Without fields that are only not there. */
const plain = (answer: DjAnswer) => JSON.parse(JSON.stringify(answer));

/** Why the entry cannot be marked final with this word; null where it is for exactly the entry as it is, or takes the word back. */
export function finalProblem(board: Board, final: Show['final']): string | null {
  if (final === null) return null;
  const { digest, facts } = entryFacts(board);
  // Of a long fact only the beginning is kept with the word.
  const isNow = final.digest === digest && hashOf(final.facts) === hashOf(keptFacts(facts));
  return isNow ? null : 'The entry has changed meanwhile: look at what differs, and mark it final again.';
}
