import type { DjAnswer } from '../areas/answer.ts';
import type { Board } from '../areas/board.ts';
import { dayWords } from '../areas/days.ts';
import type { Plan } from '../areas/plan.ts';
import type { Day } from '../calendar.ts';
import { editDifferences } from '../edit/differences.ts';
import { digestOf } from '../edit/digest.ts';
import type { Edit } from '../edit/edit.ts';
import { copyProblem, copyStanding } from './copy.ts';
import { isRead, readSince } from './covered.ts';
import { currentDigest, latest, type Plays, playedEdit, playsOf } from './played.ts';

/**
 * - `yes to other facts`: the edit is the one that the yes was given for, and something beside it has changed
 * - `yes, copy does not fit`: what the DJ has loaded is not what is to be played, or is not known to be
 */
export type AnswerKind =
  | 'not needed'
  | 'not readable'
  | 'not asked'
  | 'asked'
  | 'yes'
  | 'yes to an older version'
  | 'yes to the other file'
  | 'yes to other facts'
  | 'yes, copy does not fit'
  | 'proposal open'
  | 'accepted'
  | 'declined';

/** Where the DJ's word stands for the edit as it is now. Derived alike everywhere; nobody stores it. */
export interface AnswerState {
  kind: AnswerKind;
  /** The latest answer, also when it is for an older version. */
  answer: DjAnswer | null;
  /** What has changed since that answer, or what a proposal would change, in sentences. */
  differs: string[];
  /** Whether the DJ needs a new finished file, or only to know. */
  newFile: boolean;
  /** By which an answer is wanted. */
  answerBy: Day | null;
  words: string;
}

/** The DJ's yes that stands, which a change of what was agreed would undo; null when there is none. */
export function standingYes(board: Board): DjAnswer | null {
  const { kind, answer } = answerState(board);
  return kind === 'yes' || kind === 'accepted' ? answer : null;
}

/** Differences as one text: of the edit they are sentences, of other facts what was and is. */
export const differsWords = (differs: readonly string[]): string =>
  differs.map((one) => (/[.!?]$/.test(one) ? one : `${one}.`)).join(' ');

/** The DJ has said yes to what stands there now, whether or not their copy fits: there is nothing to ask them, nothing to say anew. */
export const isSaid = ({ kind }: Pick<AnswerState, 'kind'>): boolean =>
  kind === 'yes' || kind === 'accepted' || kind === 'yes, copy does not fit';

export function answerState(board: Board): AnswerState {
  const { plan, answer: area } = board;
  const state = (kind: AnswerKind, words: string, more: Partial<AnswerState> = {}): AnswerState => ({
    kind,
    answer: null,
    differs: [],
    newFile: false,
    answerBy: plan.asked?.answerBy ?? null,
    words,
    ...more,
  });
  if (plan.musicBy === 'band') return state('not needed', 'A band plays: give them the sheet.');
  if (!area) return state('not readable', 'What the DJ said is not shown to you.');
  const answer = latest(area.answers);
  const asked = askedWords(plan);
  if (!answer) return plan.asked ? state('asked', asked) : state('not asked', 'Not asked yet.');
  if (plan.asked && plan.asked.at > answer.at && settledBefore(plan, answer)) {
    return state('asked', asked, { answer, ...since(board, answer, answer.edit) });
  }
  if (answer.kind === 'yes' || !answer.proposal) return yes(board, answer, answer.edit, state);
  const reply = latest(plan.replies.filter((one) => one.answer === answer.id));
  if (!reply) {
    const differs = editDifferences(playedEdit(plan), answer.proposal, 'would be');
    return state('proposal open', `${answer.by || 'The DJ'} suggests something else.`, { answer, differs });
  }
  if (!reply.accepted) {
    const more = since(board, answer, answer.edit);
    return state('declined', 'The suggestion was declined: ask again.', { answer, ...more });
  }
  const accepted = yes(board, answer, answer.proposal, state);
  return accepted.kind === 'yes'
    ? { ...accepted, kind: 'accepted', words: 'The DJ’s suggestion was accepted.' }
    : accepted;
}

/**
 * A yes holds for the very edit of the very recording, played from the file that it was given for, as long as all else that was
 * read with it is as it was, and nothing is known against the copy that the DJ has.
 * @param agreed the edit that the yes is to
 */
function yes(
  board: Board,
  answer: DjAnswer,
  agreed: Edit,
  state: (kind: AnswerKind, words: string, more: Partial<AnswerState>) => AnswerState,
): AnswerState {
  const { plan } = board;
  const by = answer.by || 'The DJ';
  const plays = playsOf(board) ?? answer.plays;
  if (!sameRecording(plan, answer) || digestOf(agreed, plan.recording!) !== currentDigest(plan))
    return state('yes to an older version', `${by} said yes to an older version.`, {
      answer,
      ...since(board, answer, agreed),
    });
  if (plays !== answer.plays)
    return state('yes to the other file', otherFile[answer.plays](by), {
      answer,
      differs: readSince(board, answer),
    });
  if (!isRead(board, answer))
    return state('yes to other facts', `${by} said yes before something beside the edit changed.`, {
      answer,
      differs: readSince(board, answer),
    });
  const problem = copyProblem(copyStanding(board));
  if (problem)
    return state(
      'yes, copy does not fit',
      `${by} said yes, but ${plays === 'own copy' ? 'their copy' : 'the file that they have'} ${problem}.`,
      { answer },
    );
  return state('yes', `${by} said yes.`, { answer });
}

const otherFile: Record<Plays, (by: string) => string> = {
  'finished file': (by) => `${by} said yes to the finished file, and plays their own copy now.`,
  'own copy': (by) => `${by} said yes to their own copy, and plays the finished file now.`,
};

/** Whether an answer was given for the recording as it is now: its digest is of its edit and of that recording. */
const sameRecording = ({ recording }: Plan, { digest, edit }: DjAnswer): boolean =>
  recording !== null && digestOf(edit, recording) === digest;

/** What changed since an answer, in the edit and beside it, and whether that needs a new file. */
function since(board: Board, answer: DjAnswer, agreed: Edit): Pick<AnswerState, 'differs' | 'newFile'> {
  const { plan } = board;
  const another = !sameRecording(plan, answer);
  const differs = [
    ...(another ? ['It is another recording.'] : []),
    ...editDifferences(agreed, playedEdit(plan)),
    ...readSince(board, answer),
  ];
  const changed = another || digestOf(agreed, plan.recording!) !== currentDigest(plan);
  return { differs, newFile: (playsOf(board) ?? answer.plays) === 'finished file' && changed };
}

/** A plain yes, or a proposal that was replied to, is over once the DJ is asked again. */
const settledBefore = (plan: Plan, answer: DjAnswer): boolean =>
  answer.kind === 'yes' || plan.replies.some((reply) => reply.answer === answer.id);

const askedWords = ({ asked }: Plan): string =>
  asked?.answerBy ? `Asked, an answer is wanted by ${dayWords(asked.answerBy)}.` : 'Asked.';
