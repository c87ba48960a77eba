import type { Board } from './board.ts';
import type { PlanChange } from './change.ts';
import { fieldsWith } from './field.ts';
import { planShape } from './plan.ts';
import type { ShowChange } from './shift.ts';

type Fields = Record<string, unknown>;

/** The area of steps, and the one that some of its gestures take along. */
type Area = 'plan' | 'show';
type Changed<A extends Area> = A extends 'plan' ? PlanChange : ShowChange;

/** A part of an area before and after a gesture: a register, a whole entry that came or went, or the fields of one that changed. */
type Written = { area: Area } & (
  | { register: string; was: unknown; became: unknown }
  | { collection: string; id: string; was: Fields | null; became: Fields | null }
);
type Step = Written[];

/** Gestures that can be taken back, and such as were, the latest last. */
export interface StepLog {
  done: Step[];
  undone: Step[];
}

const { registers, collections } = planShape;
/** What is said to others cannot be unsaid: it is no step. */
const SAID: readonly string[] = [
  ...fieldsWith(registers, { of: 'said' }),
  ...fieldsWith(collections, { of: 'said' }),
];
const isOwn = (change: PlanChange): boolean =>
  !SAID.includes('register' in change ? change.register : change.collection);

const WORDS = {
  undo: ['Not undone', 'Undone in part'],
  redo: ['Not done again', 'Done again in part'],
} as const;
export type Turning = keyof typeof WORDS;

/** A gesture that is to be taken back, or done again: what that changes now, and what to do once it is made. */
export interface Turn {
  changes: PlanChange[];
  /** What it took along of the show area. */
  along: ShowChange[];
  /** Gives what could not be taken back, in a sentence; empty when all was. */
  made(before: Board, after: Board): string;
}

/**
 * Undo and redo of one person's own gestures, one at a time. To take one back is a change like any other, decided by the same
 * rules; what others have changed since stays. (Yjs's own manager goes item by item: where two people had changed one field at
 * once, it leaves the entry without that field, which the server has to refuse; and where nothing of the last gesture is left, it
 * undoes an older one.)
 */
export class OwnSteps {
  constructor(private readonly log: StepLog = { done: [], undone: [] }) {}

  get canUndo(): boolean {
    return this.log.done.length > 0;
  }
  get canRedo(): boolean {
    return this.log.undone.length > 0;
  }

  /** Nothing that was done so far can be taken back any more. */
  forget(): void {
    this.log.done.length = 0;
    this.log.undone.length = 0;
  }

  /** The last gesture cannot be turned round, and never will be. */
  drop(way: Turning): void {
    (way === 'undo' ? this.log.done : this.log.undone).pop();
  }

  /** These changes were made as one gesture. What changes nothing is no step. */
  note(before: Board, after: Board, changes: readonly PlanChange[], along: readonly ShowChange[] = []): void {
    const step = stepOf(before, after, changes.filter(isOwn), along);
    if (step.length === 0) return;
    this.log.done.push(step);
    this.log.undone.length = 0;
  }

  /**
   * The last gesture, to be turned round: until `made` is called it stays the last. A sentence where nothing of it is left, and it
   * is forgotten; null where there is none.
   */
  turn(way: Turning, now: Board): Turn | string | null {
    const [from, to] = way === 'undo' ? [this.log.done, this.log.undone] : [this.log.undone, this.log.done];
    const [not, inPart] = WORDS[way];
    const step = from.at(-1);
    if (!step) return null;
    const changes = turned(step, 'plan', now);
    const along = turned(step, 'show', now);
    if (changes.length + along.length === 0) {
      from.pop();
      return `${not}: this was changed elsewhere since, and stays as it is now.`;
    }
    return {
      changes,
      along,
      made: (before, after) => {
        const made = stepOf(before, after, changes, along);
        if (from.at(-1) === step) from.pop();
        to.push(made);
        return partsOf(made) < partsOf(step)
          ? `${inPart}: the rest was changed elsewhere since, and stays as it is now.`
          : '';
      },
    };
  }
}

/** Equal as data; what nobody changed is mostly the very same object. */
const isSame = (one: unknown, other: unknown): boolean =>
  one === other || JSON.stringify(one) === JSON.stringify(other);

const dataOf = (board: Board, area: Area): Fields => (board[area] ?? {}) as Fields;

function entryOf(data: Fields, collection: string, id: string): Fields | null {
  const entries = data[collection] as ({ id: string } & Fields)[] | undefined;
  const entry = entries?.find((each) => each.id === id);
  if (!entry) return null;
  const { id: _id, ...fields } = entry;
  return fields;
}

function stepOf(
  before: Board,
  after: Board,
  changes: readonly PlanChange[],
  along: readonly ShowChange[],
): Step {
  return [...partsWritten('plan', before, after, changes), ...partsWritten('show', before, after, along)];
}

function partsWritten<A extends Area>(
  area: A,
  boardBefore: Board,
  boardAfter: Board,
  changes: readonly Changed<A>[],
): Step {
  const [before, after] = [dataOf(boardBefore, area), dataOf(boardAfter, area)];
  const parts = new Map(
    changes.map((change) => [
      'register' in change ? change.register : `${change.collection}/${change.id}`,
      change,
    ]),
  );
  return [...parts.values()].flatMap((change): Written[] => {
    if ('register' in change) {
      const { register } = change;
      const [was, became] = [before[register], after[register]];
      return isSame(was, became) ? [] : [{ area, register, was, became }];
    }
    const { collection, id } = change;
    const [was, became] = [entryOf(before, collection, id), entryOf(after, collection, id)];
    if (isSame(was, became)) return [];
    if (was === null || became === null) return [{ area, collection, id, was, became }];
    const changed = Object.keys(became).filter((field) => !isSame(was[field], became[field]));
    return [{ area, collection, id, was: only(was, changed), became: only(became, changed) }];
  });
}

const only = (fields: Fields, names: readonly string[]): Fields =>
  Object.fromEntries(names.map((name) => [name, fields[name]]));

/** Registers, entries that came or went, and single fields. */
const partsOf = (step: Step): number =>
  step
    .map((written) =>
      'register' in written || written.was === null || written.became === null
        ? 1
        : Object.keys(written.became).length,
    )
    .reduce((sum, parts) => sum + parts, 0);

/** The changes to an area that turn a gesture round, as far as its parts still are as it left them. */
const turned = <A extends Area>(step: Step, area: A, now: Board): Changed<A>[] =>
  step.filter((written) => written.area === area).flatMap((written) => backwards(dataOf(now, area), written));

function backwards<A extends Area>(now: Fields, written: Written): Changed<A>[] {
  if ('register' in written) {
    const { register, was, became } = written;
    return isSame(now[register], became) ? [{ register, value: was } as unknown as Changed<A>] : [];
  }
  const { collection, id, was, became } = written;
  const entry = entryOf(now, collection, id);
  const change = (fields: Fields | null) => [{ collection, id, fields } as unknown as Changed<A>];
  if (was === null || became === null) return isSame(entry, became) ? change(was) : [];
  const still = Object.keys(became).filter((field) => entry !== null && isSame(entry[field], became[field]));
  return still.length === 0 ? [] : change(only(was, still));
}
