import type { CopyCheck } from '../areas/answer.ts';
import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import type { Instant } from '../calendar.ts';
import { isSameSpeed } from '../compare/sameSpeed.ts';
import { playsWhole } from '../edit/edit.ts';
import { currentDigest, type Plays, playedEdit, playsOf } from './played.ts';

/** Why a copy is not what is to be played. */
export type Misfit =
  | 'another speed'
  | 'cut differently'
  | 'another recording'
  | 'finished file'
  | 'older finished file'
  | 'whole recording'
  | 'another clock';

/**
 * How the DJ's copy stands to what is to be played, by their own check of it.
 * - `not needed`: they play the finished file and have checked none, or a band plays
 * - `being checked`: a check was begun, at `at`; whether it still runs, only the page that began it knows
 * - `unsure`: the comparison could not tell for certain
 */
export type CopyStanding =
  | { kind: 'not needed' | 'not checked' | 'fits' }
  | { kind: 'being checked' | 'failed' | 'unsure'; at: Instant }
  | { kind: 'fits with an offset'; offsetMs: number }
  | { kind: 'does not fit'; why: Misfit; ratio: number; confidence: number };

/** Below this a comparison has not told one from the other. Ours, no source: of worn copies of test songs it is .62 and more. */
const SURE = 0.5;
export const isSureOf = ({ confidence }: Pick<CopyCheck, 'confidence'>): boolean => confidence >= SURE;

/**
 * What a copy check says of the plan as it is now: nothing once the recording is another, and a file that was the finished
 * one is an older one once the edit has changed.
 */
export function copyCheckNow<C extends Pick<CopyCheck, 'verdict' | 'recording' | 'digest'>>(
  copy: C | null,
  plan: Plan,
): C | null {
  if (!copy || isOfAnother(copy, plan)) return null;
  const older =
    copy.verdict === 'finished file' && copy.digest !== undefined && copy.digest !== currentDigest(plan);
  return older ? { ...copy, verdict: 'older finished file' } : copy;
}

const isOfAnother = ({ recording }: { recording?: string | undefined }, plan: Plan): boolean =>
  recording !== undefined && recording !== plan.recording?.id;

/** The DJ's own check of their copy, as it stands now. */
export const copyCheckOf = ({ plan, answer }: Board): CopyCheck | null =>
  copyCheckNow(answer?.copy ?? null, plan);

export function copyStanding(board: Board): CopyStanding {
  const { plan, answer } = board;
  if (!answer || plan.musicBy === 'band') return { kind: 'not needed' };
  const plays = playsOf(board);
  const isFile = plays === 'finished file';
  const { checking } = answer;
  if (checking && !isFile && !isOfAnother(checking, plan))
    return { kind: checking.state === 'begun' ? 'being checked' : 'failed', at: checking.at };
  const copy = copyCheckOf(board);
  if (!copy) return { kind: plays === 'own copy' ? 'not checked' : 'not needed' };
  const why = isFile ? fileMisfit(copy, plan) : copyMisfit(copy, plays !== null);
  if (why === 'not needed') return { kind: 'not needed' };
  if (why) return { kind: 'does not fit', why, ratio: copy.ratio, confidence: copy.confidence };
  if (!isSureOf(copy) && !isFile) return { kind: 'unsure', at: copy.at };
  return copy.verdict === 'shifted' && !isFile
    ? { kind: 'fits with an offset', offsetMs: copy.offsetMs }
    : { kind: 'fits' };
}

/** @param own the DJ has said that they play it: then the finished file is another thing */
function copyMisfit({ verdict, ratio }: CopyCheck, own: boolean): Misfit | null {
  if (verdict === 'same' || verdict === 'shifted') return isSameSpeed(ratio) ? null : 'another speed';
  return verdict === 'finished file' && !own ? null : verdict;
}

/** Of what was loaded as the finished file. What was checked as an own copy says nothing of it. */
function fileMisfit({ verdict, plays }: CopyCheck, plan: Plan): Misfit | null | 'not needed' {
  if (verdict === 'finished file') return null;
  if (verdict === 'older finished file') return verdict;
  if (plays === 'own copy') return 'not needed';
  if (verdict === 'cut differently' || verdict === 'another recording') return verdict;
  // The recording holds the same music where nothing is done to it.
  if (playsWhole(playedEdit(plan))) return verdict === 'same' ? null : 'another clock';
  // Older checks do not say what they were of.
  return plays === 'finished file' ? 'whole recording' : 'not needed';
}

/** What is wrong with what the DJ has loaded, as the end of a sentence about it; empty where nothing is known to be. */
export function copyProblem(standing: CopyStanding): string {
  switch (standing.kind) {
    case 'being checked':
      return 'is still being checked';
    case 'failed':
      return 'could not be checked';
    case 'unsure':
      return 'is not surely the same recording';
    case 'does not fit':
      return standing.why === 'another speed' ? speedWords(standing.ratio) : misfits[standing.why];
    default:
      return '';
  }
}

const misfits: Record<Exclude<Misfit, 'another speed'>, string> = {
  'cut differently': 'is cut differently',
  'another recording': 'is another recording',
  'finished file': 'is the finished file',
  'older finished file': 'is an older finished file',
  'whole recording': 'is the whole recording, not the finished file',
  'another clock': 'has a clock of its own',
};

/** `runs 0.5 % faster`. @param ratio copy duration / recording duration */
export const speedWords = (ratio: number): string =>
  `runs ${Math.round(Math.abs(1 / ratio - 1) * 10_000) / 100} % ${ratio < 1 ? 'faster' : 'slower'}`;

/**
 * How long something of the finished file lasts as the DJ plays it, in seconds: an own copy may be slower. Null where that copy is
 * not known to hold the same music.
 */
export function asPlayed<T extends number>(
  board: Board,
  length: T,
  plays: Plays | null = playsOf(board),
): T | null {
  const copy = copyCheckOf(board);
  if (!copy || plays !== 'own copy' || board.plan.musicBy === 'band') return length;
  if (copy.verdict === 'same' || copy.verdict === 'shifted')
    return isSameSpeed(copy.ratio) ? length : ((length * copy.ratio) as T);
  return copy.verdict === 'finished file' ? length : null;
}
