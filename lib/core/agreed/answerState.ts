import type { CopyCheck, DjAnswer } from '../areas/answer.ts';
import type { Board } from '../areas/board.ts';
import { dayWords } from '../areas/days.ts';
import type { Plan } from '../areas/plan.ts';
import type { Day } from '../calendar.ts';
import { editDifferences } from '../edit/differences.ts';
import { digestOf } from '../edit/digest.ts';
import type { Edit } from '../edit/edit.ts';
import { wholeSong } from '../edit/edit.ts';

export type AnswerKind =
  | 'not needed'
  | 'not readable'
  | 'not asked'
  | 'asked'
  | 'yes'
  | 'yes to an older version'
  | 'yes to the other file'
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

/** Digest of what is to be played now; null without a recording. */
export const currentDigest = (plan: Plan): string | null =>
  plan.recording ? digestOf(plan.edit ?? wholeSong, plan.recording) : null;

/**
 * What a copy check says of the plan as it is now: nothing once the recording is another, and a file that was the finished
 * one is an older one once the edit has changed.
 */
export function copyCheckNow<C extends Pick<CopyCheck, 'verdict' | 'recording' | 'digest'>>(
  copy: C | null,
  plan: Plan,
): C | null {
  if (!copy) return null;
  if (copy.recording !== undefined && copy.recording !== plan.recording?.id) return null;
  const older =
    copy.verdict === 'finished file' && copy.digest !== undefined && copy.digest !== currentDigest(plan);
  return older ? { ...copy, verdict: 'older finished file' } : copy;
}

/** The DJ's own check of their copy, as it stands now. */
export const copyCheckOf = ({ plan, answer }: Board): CopyCheck | null =>
  copyCheckNow(answer?.copy ?? null, plan);

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
  const plays = area.plays ?? answer.plays;
  if (plan.asked && plan.asked.at > answer.at && settledBefore(plan, answer)) {
    return state('asked', asked, { answer, ...since(plan, answer, answer.edit, plays) });
  }
  if (answer.kind === 'yes' || !answer.proposal) return yes(plan, answer, answer.edit, plays, state);
  const reply = latest(plan.replies.filter((one) => one.answer === answer.id));
  if (!reply) {
    const differs = editDifferences(plan.edit ?? wholeSong, answer.proposal, 'would be');
    return state('proposal open', `${answer.by || 'The DJ'} suggests something else.`, { answer, differs });
  }
  if (!reply.accepted) {
    const more = since(plan, answer, answer.edit, plays);
    return state('declined', 'The suggestion was declined: ask again.', { answer, ...more });
  }
  const accepted = yes(plan, answer, answer.proposal, plays, state);
  return accepted.kind === 'yes'
    ? { ...accepted, kind: 'accepted', words: 'The DJ’s suggestion was accepted.' }
    : accepted;
}

type Plays = DjAnswer['plays'];

/**
 * A yes holds for the very edit of the very recording, played from the file that it was given for.
 * @param agreed the edit that the yes is to
 */
function yes(
  plan: Plan,
  answer: DjAnswer,
  agreed: Edit,
  plays: Plays,
  state: (kind: AnswerKind, words: string, more: Partial<AnswerState>) => AnswerState,
): AnswerState {
  const by = answer.by || 'The DJ';
  if (!sameRecording(plan, answer) || digestOf(agreed, plan.recording!) !== currentDigest(plan))
    return state('yes to an older version', `${by} said yes to an older version.`, {
      answer,
      ...since(plan, answer, agreed, plays),
    });
  if (plays === answer.plays) return state('yes', `${by} said yes.`, { answer });
  return state('yes to the other file', otherFile[answer.plays](by), { answer });
}

const otherFile: Record<Plays, (by: string) => string> = {
  'finished file': (by) => `${by} said yes to the finished file, and plays their own copy now.`,
  'own copy': (by) => `${by} said yes to their own copy, and plays the finished file now.`,
};

/** Whether an answer was given for the recording as it is now: its digest is of its edit and of that recording. */
const sameRecording = ({ recording }: Plan, { digest, edit }: DjAnswer): boolean =>
  recording !== null && digestOf(edit, recording) === digest;

/** What changed since an answer, and whether that needs a new file. */
function since(
  plan: Plan,
  answer: DjAnswer,
  agreed: Edit,
  plays: Plays,
): Pick<AnswerState, 'differs' | 'newFile'> {
  const another = !sameRecording(plan, answer);
  const differs = [
    ...(another ? ['It is another recording.'] : []),
    ...editDifferences(agreed, playedEdit(plan)),
  ];
  const changed = another || digestOf(agreed, plan.recording!) !== currentDigest(plan);
  return { differs, newFile: plays === 'finished file' && changed };
}

/** A plain yes, or a proposal that was replied to, is over once the DJ is asked again. */
const settledBefore = (plan: Plan, answer: DjAnswer): boolean =>
  answer.kind === 'yes' || plan.replies.some((reply) => reply.answer === answer.id);

const askedWords = ({ asked }: Plan): string =>
  asked?.answerBy ? `Asked, an answer is wanted by ${dayWords(asked.answerBy)}.` : 'Asked.';

/** The latest of them; instants are compared as text, and of two at one instant the later id counts, everywhere alike. */
const latest = <T extends { at: string; id: string }>(all: readonly T[]): T | null =>
  all.reduce<T | null>(
    (best, one) => (!best || one.at > best.at || (one.at === best.at && one.id > best.id) ? one : best),
    null,
  );

/** The edit that is to be played. */
export const playedEdit = (plan: Plan): Edit => plan.edit ?? wholeSong;
