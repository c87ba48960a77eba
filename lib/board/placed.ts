import * as Y from 'yjs';
import type { AreaShape } from '../core/areas/area.ts';
import { bad, type Problem } from '../core/result.ts';
import { REGISTERS, TEXT } from './layout.ts';
import { isOwnName, isPlain, type ReadUpdate, type Struct } from './possible.ts';
import { DEEPEST, elementProblem, richMarks, TOO_DEEP } from './richText.ts';

/** Ids that an update may bring: a page has one each time that it is opened, and a backlog is of a few pages. */
const MOST_CLIENTS = 200;
/** Structs, and ranges of what is removed, in one update: as many as the largest area has. */
const MOST_PARTS = 60_000;

type SharedType = Y.Map<unknown> | Y.XmlFragment | Y.XmlElement | Y.XmlText | Y.Text | Y.Array<unknown>;
interface Place {
  /** A root by its name, or a shared type; null where that was removed meanwhile. */
  in: string | SharedType | null;
  /** Name of the register, field or attribute, or the entry's id; null in a list. */
  key: string | null;
}
const GONE: Place = { in: null, key: null };

const malformed = bad('malformed', 'This change cannot be read.').problem;
const missing = bad('gap', 'This change builds on one that is missing here: please reload.').problem;
const invalid = (sentence: string): Problem => bad('invalid', sentence).problem;
const noText = invalid('A note may hold text only.');

/**
 * Why an update may not be tried on a document; null when it may. Nothing is applied: each struct that the document has not yet is
 * found its place, and must be of the kind that belongs there. So what is tried can be read by everybody, however wrong it is.
 */
export function placeProblem(update: ReadUpdate, doc: Y.Doc, shape: AreaShape): Problem | null {
  const { structs, removed } = update;
  let ranges = 0;
  for (const list of removed.values()) ranges += list.length;
  if (Math.max(structs.length, ranges) > MOST_PARTS) return malformed;
  const places = new Places(structs, doc);
  for (const [client, list] of removed)
    for (const { clock, len } of list) if (!places.reaches(client, clock + len)) return missing;
  let clients = 0;
  let client: number | null = null;
  for (const struct of structs) {
    const { id, length } = struct;
    const state = Y.getState(doc.store, id.client);
    if (client !== id.client) {
      client = id.client;
      clients += 1;
      if (clients > MOST_CLIENTS) return malformed;
      // Its client made something before it that is not there.
      if (id.clock > state) return missing;
    }
    // What is known already is not taken again, whatever it says.
    if (id.clock + length <= state) continue;
    if (struct instanceof Y.Skip) return missing;
    if (!(struct instanceof Y.Item)) continue;
    const place = places.of(struct);
    const problem = place === undefined ? missing : contentProblem(struct.content, place, shape, places);
    if (problem !== null) return problem;
  }
  return null;
}

type Content = Y.Item['content'];

function contentProblem(content: Content, place: Place, shape: AreaShape, places: Places): Problem | null {
  const { in: holder, key } = place;
  if (typeof holder === 'string' && holder !== REGISTERS && !Object.hasOwn(shape.collections, holder))
    return invalid(`The ${shape.name} has no part named ${holder.slice(0, 40)}.`);
  if (content instanceof Y.ContentDeleted) return null;
  if (holder === null) return isOfSomePlace(content) ? null : malformed;
  if (holder instanceof Y.XmlText) return wordsProblem(content, key);
  if (holder instanceof Y.XmlFragment) return partProblem(content, holder, key, places);
  // Nothing but these lies in a list.
  if (key === null) return malformed;
  if (!isOwnName(key)) return invalid(`The ${shape.name} has no ${key}.`);
  const type = typeOf(content);
  if (holder !== REGISTERS && typeof holder === 'string')
    return type instanceof Y.Map ? null : invalid(`${holder}: this is no entry.`);
  if (holder instanceof Y.Map && key === TEXT && isText(type)) return null;
  if (holder !== REGISTERS && !(holder instanceof Y.Map)) return malformed;
  return isValue(content) ? null : invalid(`${key.slice(0, 40)}: this is no value that can be kept.`);
}

/** In a piece of text. */
function wordsProblem(content: Content, key: string | null): Problem | null {
  if (key === null && content instanceof Y.ContentString) return null;
  if (key !== null || !(content instanceof Y.ContentFormat)) return noText;
  return isMark(content) ? null : invalid(`A note may not be formatted as ${content.key.slice(0, 40)}.`);
}

/** In a rich text or one of its elements: an attribute, or what stands in it. */
function partProblem(
  content: Content,
  holder: Y.XmlFragment | Y.XmlElement,
  key: string | null,
  places: Places,
): Problem | null {
  if (key !== null) {
    if (!(holder instanceof Y.XmlElement) || !(content instanceof Y.ContentAny)) return noText;
    const problems = content.arr.map((value) => elementProblem(holder.nodeName, key, value));
    const problem = problems.find((one) => one !== null);
    return problem === undefined ? null : invalid(problem);
  }
  const type = typeOf(content);
  if (type instanceof Y.XmlText) return null;
  if (!(type instanceof Y.XmlElement)) return noText;
  const problem = elementProblem(type.nodeName, '', null);
  if (problem !== null) return invalid(problem);
  return places.depthOf(holder) < DEEPEST ? null : invalid(TOO_DEEP);
}

const typeOf = (content: Content): SharedType | null =>
  content instanceof Y.ContentType ? (content.type as unknown as SharedType) : null;
const isValue = (content: Content): boolean =>
  content instanceof Y.ContentAny && content.arr.every((one) => isPlain(one));
/** An element is a fragment to Yjs, too. */
const isText = (type: SharedType | null): boolean =>
  type instanceof Y.XmlFragment && !(type instanceof Y.XmlElement);
/** The editor's marks have no attributes; null ends one. */
const isMark = ({ key, value }: Y.ContentFormat): boolean =>
  richMarks.includes(key) && (value === null || value === true || isEmpty(value));
/** Told without going into it: it may lie as deep as somebody likes. */
const isEmpty = (value: unknown): boolean =>
  typeof value === 'object' &&
  value !== null &&
  Object.getPrototypeOf(value) === Object.prototype &&
  Object.keys(value).length === 0;

/** For what lies in something that is gone: nobody sees it, but it is kept, and read by every page. */
function isOfSomePlace(content: Content): boolean {
  if (content instanceof Y.ContentString || isValue(content)) return true;
  if (content instanceof Y.ContentFormat) return isMark(content);
  const type = typeOf(content);
  if (type instanceof Y.XmlElement) return elementProblem(type.nodeName, '', null) === null;
  return type instanceof Y.Map || type instanceof Y.XmlText || isText(type);
}

/** Finds what lies where, in an update and the document that it is meant for. */
class Places {
  /** Made only when something is asked for that the document does not have: most updates build on nothing of their own. */
  private sorted: Map<number, Struct[]> | null = null;
  private brought: Map<unknown, Struct> | null = null;
  private found: Map<Struct, Place> | null = null;
  private depths: Map<SharedType, number> | null = null;

  constructor(
    private readonly structs: readonly Struct[],
    private readonly doc: Y.Doc,
  ) {}

  /** Whether this client's structs go so far, with those of the update. */
  reaches(client: number, clock: number): boolean {
    if (clock <= Y.getState(this.doc.store, client)) return true;
    const last = this.byClient.get(client)?.at(-1);
    return last !== undefined && clock <= last.id.clock + last.length;
  }

  /** Where it lies: what has a neighbour lies where that does. Undefined where nothing says so. */
  of(struct: Struct): Place | undefined {
    let at: Struct | undefined = struct;
    let place = this.written(struct);
    if (place !== undefined) return place;
    const way = new Set<Struct>();
    this.found ??= new Map();
    while (at !== undefined && !way.has(at)) {
      place = this.found.get(at) ?? this.written(at);
      if (place !== undefined) break;
      way.add(at);
      const id: Y.ID | null = (at as Y.Item).origin ?? (at as Y.Item).rightOrigin;
      at = id === null ? undefined : this.find(id);
    }
    if (place !== undefined) for (const one of way) this.found.set(one, place);
    return place;
  }

  /** How many elements a type lies in, itself among them. */
  depthOf(type: SharedType): number {
    const way: SharedType[] = [];
    this.depths ??= new Map();
    let at: Place['in'] | undefined = type;
    let depth = 0;
    while (at instanceof Y.XmlElement && way.length <= DEEPEST) {
      const known = this.depths.get(at);
      if (known !== undefined) {
        depth = known;
        break;
      }
      way.push(at);
      const struct: Struct | null = at._item ?? this.bringing(at);
      at = struct ? this.of(struct)?.in : null;
    }
    for (const one of way.reverse()) this.depths.set(one, ++depth);
    return depth;
  }

  /** What a struct says itself of where it lies; undefined where it leaves that to its neighbours. */
  private written(struct: Struct): Place | undefined {
    if (!(struct instanceof Y.Item)) return GONE;
    const { parentSub: key } = struct;
    const parent: unknown = struct.parent;
    if (typeof parent === 'string') return { in: parent, key };
    if (parent instanceof Y.ID) {
      const holder = this.find(parent);
      if (holder === undefined) return undefined;
      return holder instanceof Y.Item ? { in: typeOf(holder.content), key } : GONE;
    }
    if (parent instanceof Y.AbstractType)
      return {
        in: parent._item === null ? Y.findRootTypeKey(parent) : (parent as unknown as SharedType),
        key,
      };
    return undefined;
  }

  private get byClient(): Map<number, Struct[]> {
    if (this.sorted !== null) return this.sorted;
    this.sorted = new Map();
    for (const struct of this.structs) {
      const list = this.sorted.get(struct.id.client);
      if (list) list.push(struct);
      else this.sorted.set(struct.id.client, [struct]);
    }
    return this.sorted;
  }

  /** The struct of the update that brings a type. */
  private bringing(type: SharedType): Struct | null {
    this.brought ??= new Map(
      this.structs.flatMap((struct) =>
        struct instanceof Y.Item && struct.content instanceof Y.ContentType
          ? [[struct.content.type, struct]]
          : [],
      ),
    );
    return this.brought.get(type) ?? null;
  }

  private find({ client, clock }: Y.ID): Struct | undefined {
    const { store } = this.doc;
    const known = store.clients.get(client);
    const structs = known && clock < Y.getState(store, client) ? known : this.byClient.get(client);
    if (structs === undefined) return undefined;
    let [from, to] = [0, structs.length - 1];
    while (from <= to) {
      const middle = (from + to) >> 1;
      const { id, length } = structs[middle]!;
      if (clock < id.clock) to = middle - 1;
      else if (clock >= id.clock + length) from = middle + 1;
      else return structs[middle];
    }
    return undefined;
  }
}
