import type { AreaData, AreaShape } from './area.ts';
import type { Change } from './change.ts';

type Fields = Record<string, unknown>;
/** What a step did to a register or an entry: how that was before, and what it made of it. Null is what is not there. */
type Part =
  | { register: string; was: unknown; made: unknown }
  | { collection: string; id: string; was: Fields | null; made: Fields | null };
type Data = Record<string, unknown>;

/**
 * The steps that one person made, to be undone by that person. Only what still stands as they left it goes back: what others have changed
 * since is theirs. Works on plain data and gives changes, which the rules of the area are asked about as about any others: taking back
 * insertions and deletions of a shared document itself brings back entries without the fields that somebody else changed meanwhile.
 */
export class Undo<S extends AreaShape> {
  private readonly done: Part[][] = [];
  private readonly undone: Part[][] = [];

  get canUndo(): boolean {
    return this.done.length > 0;
  }
  get canRedo(): boolean {
    return this.undone.length > 0;
  }

  /** A new step: what was undone before it is not done again. */
  made(changes: readonly Change<S>[], before: AreaData<S>, after: AreaData<S>): void {
    this.done.push(partsOf(changes, before, after));
    this.undone.length = 0;
  }

  /** The last step of which something can be taken back; `apply` makes the changes and gives what they led to, null where it may not. */
  undo(now: AreaData<S>, apply: Apply<S>): void {
    goBack(this.done, this.undone, now, apply);
  }
  redo(now: AreaData<S>, apply: Apply<S>): void {
    goBack(this.undone, this.done, now, apply);
  }
}

type Apply<S extends AreaShape> = (changes: Change<S>[]) => AreaData<S> | null;

function goBack<S extends AreaShape>(from: Part[][], to: Part[][], now: AreaData<S>, apply: Apply<S>): void {
  for (let step = from.pop(); step !== undefined; step = from.pop()) {
    const changes = step.flatMap((part) => takingBack(part, now)) as Change<S>[];
    const after = changes.length > 0 ? apply(changes) : null;
    if (after === null) continue;
    to.push(partsOf(changes, now, after));
    return;
  }
}

function partsOf<S extends AreaShape>(
  changes: readonly Change<S>[],
  before: AreaData<S>,
  after: AreaData<S>,
): Part[] {
  const parts = new Map<string, Part>();
  for (const change of changes) {
    if ('register' in change) {
      const { register } = change;
      const [was, made] = [before, after].map((data) => (data as Data)[register]);
      parts.set(register, { register, was, made });
      continue;
    }
    const { collection, id } = change;
    const [was, made] = [before, after].map((data) => entryOf(data, collection, id)) as [Fields, Fields];
    parts.set(`${collection}/${id}`, { collection, id, was, made });
  }
  return [...parts.values()];
}

function takingBack<S extends AreaShape>(part: Part, now: AreaData<S>): object[] {
  if ('register' in part) {
    const { register, was, made } = part;
    return isSame((now as Data)[register], made) ? [{ register, value: was }] : [];
  }
  const { collection, id, was, made } = part;
  const entry = entryOf(now, collection, id);
  if (was === null || made === null || entry === null)
    return (entry === null) === (made === null) && was !== made ? [{ collection, id, fields: was }] : [];
  const changed = Object.entries(was).filter(
    ([field, value]) => !isSame(value, made[field]) && isSame(entry[field], made[field]),
  );
  return changed.length > 0 ? [{ collection, id, fields: Object.fromEntries(changed) }] : [];
}

function entryOf(data: object, collection: string, id: string): Fields | null {
  const entry = ((data as Data)[collection] as { id: string }[]).find((one) => one.id === id);
  if (entry === undefined) return null;
  const { id: _id, ...fields } = entry;
  return fields;
}

/** What is read is plain JSON, and often the very same object. */
const isSame = (one: unknown, other: unknown): boolean =>
  one === other || JSON.stringify(one) === JSON.stringify(other);
