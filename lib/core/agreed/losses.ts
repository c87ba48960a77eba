import type { AreaName, Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { planDifferences } from '../areas/planDifferences.ts';
import { same } from '../edit/canonical.ts';
import { answerState, standingYes } from './answerState.ts';
import { entryFacts } from './entry.ts';
import type { Gesture } from './gesture.ts';
import { leftOutBy } from './leftOut.ts';
import { placedWords } from './placedWords.ts';
import { type RecordingLoss, recordingLoss } from './recordingLoss.ts';

/** Something agreed, placed or said that a change would undo. Lists are in words, for people. */
export type Loss =
  | { kind: 'mark'; differs: string[]; songStays: boolean }
  | RecordingLoss
  | { kind: 'settled'; by: string; word: string }
  | { kind: 'yes'; by: string; plays: 'finished file' | 'own copy'; differs: string[]; newFile: boolean }
  | { kind: 'final'; by: string; differs: string[] }
  | { kind: 'left out'; what: string[] }
  | { kind: 'placed'; moves: string[] }
  | { kind: 'danced'; moves: string[] }
  | { kind: 'listened for'; words: string[] };

/**
 * All that is lost by going from one board to the other, what weighs most first.
 * @param opens it alters what is settled
 */
export function lossesOf(
  before: Board,
  after: Board,
  area: AreaName,
  { way, about = [] }: Gesture,
  opens: boolean,
): Loss[] {
  const { settled } = before.plan;
  const losses: (Loss | null)[] = [
    way === 'mark'
      ? {
          kind: 'mark',
          differs: planDifferences(before.plan, after.plan),
          songStays: settled !== null && !opens,
        }
      : null,
    recordingLoss(before, after, way),
    settled && opens ? { kind: 'settled', by: settled.by, word: settled.word } : null,
    // Their own words are no loss to the DJ.
    area === 'answer' ? null : yesLoss(before, after),
    finalLoss(before, after),
    leftOutLoss(before, after),
    way === 'suggestion' ? placedLoss(before.plan, after.plan, about) : null,
    dancedLoss(before.plan, after.plan),
    cueLoss(before.plan, after.plan),
  ];
  return losses.filter((loss) => loss !== null);
}

function yesLoss(before: Board, after: Board): Loss | null {
  const yes = standingYes(before);
  if (!yes || standingYes(after)) return null;
  const { differs, newFile } = answerState(after);
  return { kind: 'yes', by: yes.by, plays: yes.plays, differs, newFile };
}

/** Of an entry that is final as it stands; marking it anew, or taking that back, is its own matter. */
function finalLoss(before: Board, after: Board): Loss | null {
  if (!before.show?.final || !same(before.show.final, after.show?.final ?? null)) return null;
  if (entryFacts(before).final?.outdated !== false) return null;
  const { final } = entryFacts(after);
  return final?.outdated ? { kind: 'final', by: final.by, differs: final.differs } : null;
}

/** What the edit no longer plays; another recording is told of as a whole. */
function leftOutLoss(before: Board, after: Board): Loss | null {
  if (before.plan.recording?.id !== after.plan.recording?.id) return null;
  const what = leftOutBy(before, after);
  return what.length === 0 ? null : { kind: 'left out', what };
}

/** Moves that stand on the sheet and that a suggestion would move, change or take away, beside those that it names. */
function placedLoss(before: Plan, after: Plan, about: readonly string[]): Loss | null {
  if (before.placed === after.placed) return null;
  const now = new Map(after.placed.map((one) => [one.id, one]));
  const lost = before.placed.filter((one) => !about.includes(one.id) && !same(one, now.get(one.id) ?? null));
  return lost.length === 0 ? null : { kind: 'placed', moves: lost.map((one) => placedWords(before, one)) };
}

/** Moves that go from the couple's list while they are danced. */
function dancedLoss(before: Plan, after: Plan): Loss | null {
  if (before.moves === after.moves) return null;
  const danced = new Set([...after.placed.map(({ move }) => move), ...(after.ending?.moves ?? [])]);
  const left = new Set(after.moves.map(({ id }) => id));
  const lost = before.moves.filter(({ id }) => danced.has(id) && !left.has(id));
  return lost.length === 0 ? null : { kind: 'danced', moves: lost.map(({ name }) => name) };
}

/** Words that go while the ending listens for them. */
function cueLoss(before: Plan, after: Plan): Loss | null {
  if (before.cues === after.cues) return null;
  const heard = [after.ending?.target.cue, after.ending?.signal];
  const left = new Set(after.cues.map(({ id }) => id));
  const lost = before.cues.filter(({ id }) => heard.includes(id) && !left.has(id));
  return lost.length === 0 ? null : { kind: 'listened for', words: lost.map(({ word }) => word) };
}
