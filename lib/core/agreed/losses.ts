import type { AreaName, Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { planDifferences } from '../areas/planDifferences.ts';
import { floorOf } from '../dance/clock.ts';
import { same } from '../edit/canonical.ts';
import { clock } from '../units.ts';
import { answerState, standingYes } from './answerState.ts';
import { entryFacts } from './entry.ts';
import type { Gesture } from './gesture.ts';
import { heldFast } from './heldFast.ts';
import { leftOutBy } from './leftOut.ts';

/** Something agreed, placed or said that a change would undo. Lists are in words, for people. */
export type Loss =
  | { kind: 'mark'; differs: string[]; songStays: boolean }
  | { kind: 'recording'; touches: string[] }
  | { kind: 'settled'; by: string; word: string }
  | { kind: 'yes'; by: string; plays: 'finished file' | 'own copy'; differs: string[]; newFile: boolean }
  | { kind: 'final'; by: string; differs: string[] }
  | { kind: 'left out'; what: string[] }
  | { kind: 'placed'; moves: string[] }
  | { kind: 'danced'; moves: string[] }
  | { kind: 'listened for'; words: string[] };

/** All that is lost by going from one board to the other, what weighs most first. */
export function lossesOf(before: Board, after: Board, area: AreaName, { way, about = [] }: Gesture): Loss[] {
  const losses: (Loss | null)[] = [
    way === 'mark'
      ? {
          kind: 'mark',
          differs: planDifferences(before.plan, after.plan),
          songStays: before.plan.settled !== null && heldFast(before, after) === null,
        }
      : null,
    recordingLoss(before.plan, after.plan),
    heldFast(before, after)
      ? { kind: 'settled', by: before.plan.settled?.by ?? '', word: before.plan.settled?.word ?? '' }
      : null,
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

function placedWords(plan: Plan, { move, at }: Plan['placed'][number]): string {
  const floor = floorOf(plan, at);
  const name = plan.moves.find(({ id }) => id === move)?.name ?? 'a move';
  return floor === null ? `${name}, left out by the edit` : `${name} at ${clock(floor)}`;
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

/** Another recording: what stands at seconds of the one before, or names it, and does not come along by itself. */
function recordingLoss(before: Plan, after: Plan): Loss | null {
  if (!before.recording || before.recording.id === after.recording?.id) return null;
  const stays = (name: 'cues' | 'placed') =>
    before[name].filter((one) => after[name].some((then) => same(one, then))).length;
  const [words, moves] = [stays('cues'), stays('placed')];
  const touches = [
    before.recordingWords && same(before.recordingWords, after.recordingWords)
      ? 'artist, title and source stay as they were written'
      : '',
    same(before.grid, after.grid) ? '' : 'beats, bars and sections are heard anew',
    before.edit && !same(before.edit, after.edit) ? 'the edit is made anew' : '',
    words > 0
      ? `${words === 1 ? '1 cue word stays at its second' : `${words} cue words stay at their seconds`}`
      : '',
    moves > 0 ? `${moves === 1 ? '1 move stays at its second' : `${moves} moves stay at their seconds`}` : '',
    before.walkOn?.firstStep != null && before.walkOn.firstStep === after.walkOn?.firstStep
      ? 'the first step stays at its second'
      : '',
    before.ending && same(before.ending, after.ending) ? 'the closing pose stays at its second' : '',
  ];
  return { kind: 'recording', touches: touches.filter((one) => one !== '') };
}
