import type { Board } from '../areas/board.ts';
import { dayWords } from '../areas/days.ts';
import { type AnswerState, answerState, differsWords } from './answerState.ts';
import { copyProblem, copyStanding } from './copy.ts';
import { spokenVersions } from './version.ts';

/** For what the DJ's word was given, as a paper says it. */
export interface Given {
  /** It was given for what is printed, and nothing stands against it. */
  holds: boolean;
  words: string;
}

const NOBODY = 'Nobody has said yes to this yet.';

/** For what the DJ's last word was given, and what has changed since; null where there is none to be asked for or to be read. */
export function givenFor(board: Board): Given | null {
  const state = answerState(board);
  const { kind, answer } = state;
  if (kind === 'not needed' || kind === 'not readable') return null;
  if (!answer) return { holds: false, words: NOBODY };
  const version = spokenVersions(board).indexOf(answer.digest) + 1;
  const to = answer.kind === 'yes' && version > 0 ? ` to version ${version}` : '';
  const playing = answer.plays === 'own copy' ? 'their own copy' : 'the finished file';
  const did = answer.kind === 'yes' ? 'said yes' : 'suggested something';
  const said = `${answer.by || 'The DJ'} ${did} on ${dayWords(answer.at)}${to}, playing ${playing}`;
  return { holds: kind === 'yes' || kind === 'accepted', words: `${said}${restOf(board, state)}` };
}

/** How that stands to what is printed; the end of a sentence, and what follows it. */
function restOf(board: Board, { kind, differs }: AnswerState): string {
  const since = differs.length > 0 ? ` Since then: ${differsWords(differs)}` : '';
  switch (kind) {
    case 'yes':
      return ': exactly this.';
    case 'accepted':
      return ': exactly this. It was accepted.';
    case 'yes to an older version':
      return `. This is another version.${since}`;
    case 'yes to the other file':
      return `. They play the other one now.${since}`;
    case 'yes, copy does not fit':
      return `. But what they have to play it from ${copyProblem(copyStanding(board))}.`;
    case 'proposal open':
      return ` else: ${differsWords(differs)}`;
    case 'declined':
      return ` else. It was declined. ${NOBODY}`;
    case 'asked':
      return `. They are asked again.${since}`;
    default:
      return `.${since}`;
  }
}
