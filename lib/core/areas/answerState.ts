import { editDifferences } from '../edit/differences.ts';
import { digestOf } from '../edit/digest.ts';
import type { Edit } from '../edit/edit.ts';
import { wholeSong } from '../edit/edit.ts';
import type { CopyCheck, DjAnswer } from './answer.ts';
import type { Board } from './board.ts';
import type { Plan } from './plan.ts';

export type AnswerKind =
  | 'not needed'
  | 'not readable'
  | 'not asked'
  | 'asked'
  | 'yes'
  | 'yes to an older version'
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
  /** ISO date by which an answer is wanted. */
  answerBy: string | null;
  words: string;
}

/** Digest of what is to be played now; null without a recording. */
export const currentDigest = (plan: Plan): string | null =>
  plan.recording ? digestOf(plan.edit ?? wholeSong, plan.recording) : null;

/**
 * What the copy check says of the board as it is now: nothing once the recording is another, and a file that was the finished
 * one is an older one once the edit has changed.
 */
export function copyCheckOf({ plan, answer }: Board): CopyCheck | null {
  const copy = answer?.copy ?? null;
  if (!copy) return null;
  if (copy.recording !== undefined && copy.recording !== plan.recording?.id) return null;
  const older =
    copy.verdict === 'finished file' && copy.digest !== undefined && copy.digest !== currentDigest(plan);
  return older ? { ...copy, verdict: 'older finished file' } : copy;
}

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
    return state('asked', asked, { answer, ...since(plan, answer) });
  }
  if (answer.kind === 'yes' || !answer.proposal) return yes(plan, answer, answer.digest, state);
  const reply = latest(plan.replies.filter((one) => one.answer === answer.id));
  if (!reply) {
    const differs = editDifferences(plan.edit ?? wholeSong, answer.proposal);
    return state('proposal open', `${answer.by || 'The DJ'} suggests something else.`, { answer, differs });
  }
  if (!reply.accepted) {
    return state('declined', 'The suggestion was declined: ask again.', { answer, ...since(plan, answer) });
  }
  const agreed = plan.recording ? digestOf(answer.proposal, plan.recording) : '';
  const accepted = yes(plan, { ...answer, edit: answer.proposal }, agreed, state);
  return accepted.kind === 'yes'
    ? { ...accepted, kind: 'accepted', words: 'The DJ’s suggestion was accepted.', answer }
    : { ...accepted, answer };
}

function yes(
  plan: Plan,
  answer: DjAnswer,
  digest: string,
  state: (kind: AnswerKind, words: string, more: Partial<AnswerState>) => AnswerState,
): AnswerState {
  if (digest === currentDigest(plan)) return state('yes', `${answer.by || 'The DJ'} said yes.`, { answer });
  return state('yes to an older version', `${answer.by || 'The DJ'} said yes to an older version.`, {
    answer,
    ...since(plan, answer),
  });
}

/** What changed since an answer, and whether that needs a new file. */
function since(plan: Plan, answer: DjAnswer): Pick<AnswerState, 'differs' | 'newFile'> {
  const differs = editDifferences(answer.edit, plan.edit ?? wholeSong);
  const same =
    digestOf(answer.edit, plan.recording ?? nothing) ===
    digestOf(plan.edit ?? wholeSong, plan.recording ?? nothing);
  const another = same && answer.digest !== currentDigest(plan);
  if (another) differs.unshift('It is another recording.');
  return { differs, newFile: answer.plays === 'finished file' && answer.digest !== currentDigest(plan) };
}
const nothing = { id: '', rate: 0, channels: 0 };

/** A plain yes, or a proposal that was replied to, is over once the DJ is asked again. */
const settledBefore = (plan: Plan, answer: DjAnswer): boolean =>
  answer.kind === 'yes' || plan.replies.some((reply) => reply.answer === answer.id);

const askedWords = ({ asked }: Plan): string =>
  asked?.answerBy ? `Asked, an answer is wanted by ${asked.answerBy}.` : 'Asked.';

/** The latest of them; instants are compared as text, and of two at one instant the later id counts, everywhere alike. */
const latest = <T extends { at: string; id: string }>(all: readonly T[]): T | null =>
  all.reduce<T | null>(
    (best, one) => (!best || one.at > best.at || (one.at === best.at && one.id > best.id) ? one : best),
    null,
  );

/** The edit that is to be played. */
export const playedEdit = (plan: Plan): Edit => plan.edit ?? wholeSong;
