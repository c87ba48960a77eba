import type { AreaName } from '../core/areas/board.ts';
import type { Role } from '../core/areas/people.ts';

/**
 * The one port to what is kept. Every write is durable when its promise resolves; updates settle in the order in which they
 * were asked for, and whoever loads a whole area meanwhile is given what they wrote. Instants are ISO strings in UTC, given by the caller; hashes stand in place of tokens.
 */
export interface Store {
  boards: BoardTable;
  areas: AreaTable;
  links: LinkTable;
  sessions: SessionTable;
  files: FileTable;
  calendars: CalendarTable;
  settings: SettingTable;
  /**
   * Removes what nobody can use any more: calendar addresses of links that ended before `now`; links that ended or were
   * revoked before `linksBefore`; sessions made before `sessionsBefore` that hold no grant and are no instructor's; the part of
   * each area's history that is older than it is kept.
   */
  sweep(when: { now: string; linksBefore: string; sessionsBefore: string }): Promise<Swept>;
  close(): Promise<void>;
}

/** Kept in a folder of one computer, by one process. */
export interface EmbeddedStore extends Store {
  /** Writes a consistent copy of all tables to a new file, while in use. */
  backup(file: string): Promise<void>;
}

/** So many at once, then one every so many seconds. */
export interface Measure {
  atOnce: number;
  secondsEach: number;
}

/** Vessels that fill by one at each attempt, and leak with time. */
export interface AttemptTable {
  /**
   * Counts one more: the seconds until it is its turn, 0 for at once. Null, and not counted, where that is more than `longest`.
   * Time is the table's own, and a clock that is set back keeps nobody waiting.
   */
  take(key: string, measure: Measure, longest: number): Promise<number | null>;
}

/** Kept where several processes, on several computers, write at once. */
export interface SharedStore extends Store {
  /** For limits that hold for all nodes together. */
  attempts: AttemptTable;
  /** Those of these areas that have come further than their `head`. */
  behind(open: readonly AreaAt[]): Promise<Omit<AreaAt, 'head'>[]>;
  /**
   * Those of these that are no more what they were: boards removed, links revoked, sessions (by hash) no instructor's any
   * longer; among `frozen` links that have become so, and those that are no longer.
   */
  ended(open: Standing): Promise<Standing>;
}

/** An area, up to the update with this number. */
export interface AreaAt {
  board: string;
  area: AreaName;
  head: number;
}

/** What open connections rest on. */
export interface Standing {
  boards: string[];
  /** Links that may write. */
  links: string[];
  /** Links that were frozen when their connections opened. */
  frozen: string[];
  sessions: string[];
}

/** How many of each were removed. */
export interface Swept {
  calendars: number;
  links: number;
  sessions: number;
}

export interface StoredBoard {
  id: string;
  madeAt: string;
  /** Number of the last update of each area that was written to. */
  heads: Partial<Record<AreaName, number>>;
  /** What the studio's list goes by, in words of the caller's; null until it was noted. */
  listed: string | null;
}

/** Words of the caller's about a board, which can all be made again from its areas. */
export interface BoardNote {
  id: string;
  listed?: string;
  summary?: string;
}

export interface BoardTable {
  list(): Promise<StoredBoard[]>;
  has(id: string): Promise<boolean>;
  /** The board and its first documents, in one step. */
  add(
    id: string,
    madeAt: string,
    areas: { area: AreaName; update: Uint8Array }[],
    listed?: string | null,
  ): Promise<void>;
  /** Keeps the words with each board in place of those before; a board that is gone meanwhile is left out. */
  note(notes: readonly BoardNote[]): Promise<void>;
  /** The summaries noted of these boards, by their ids. */
  summaries(ids: readonly string[]): Promise<Map<string, string>>;
  /** Everything of it. */
  remove(id: string): Promise<void>;
}

/** A Yjs client id and the membership it belongs to. */
export interface Claim {
  client: number;
  membership: string;
}

/** A client id of the update belongs to another membership; the update was not stored. */
export class ClaimTaken extends Error {
  constructor() {
    super('This change was made under the name of somebody else.');
  }
}

/** Who wrote an update, and when by the server's clock. */
export interface Writing {
  /** Empty where the server itself wrote it, or where nobody noted who did. */
  membership: string;
  /** An instant. */
  at: string;
}

/** An update of an area's log. */
export interface Written extends Writing {
  number: number;
  update: Uint8Array;
}

/** What rebuilds an area as it stood earlier. */
export interface EarlierArea {
  updates: Uint8Array[];
  /** Number of the last update that it holds; 0 where the area was empty. */
  number: number;
  /** Number of the last update that the snapshot holds with which it begins; 0 where it begins with none. */
  base: number;
  /** When that was written. */
  at: string;
}

/** Who wrote an area in an hour. */
export interface WrittenHour {
  area: AreaName;
  membership: string;
  /** The first and last instant at which they did. */
  from: string;
  to: string;
}

export interface StoredArea {
  /** A snapshot, when there is one, and the updates since, in order. */
  updates: Uint8Array[];
  head: number;
  /** Updates that stand beside the snapshot. */
  loose: number;
  claims: Claim[];
}

/** What could not be used of an area, with the reason. */
export interface SetAside {
  area: AreaName;
  bytes: Uint8Array;
  reason: string;
  at: string;
}

export interface AreaTable {
  /** The whole area, or only what came after the update with this number: at least that, never less. */
  load(board: string, area: AreaName, after?: number): Promise<StoredArea>;
  /** The number of the update; fails when the board is gone, and with `ClaimTaken` when a claim is another's. */
  append(
    board: string,
    area: AreaName,
    update: Uint8Array,
    claims: readonly Claim[],
    writing: Writing,
  ): Promise<number>;
  /**
   * Puts a snapshot that holds the updates up to `through` in their place. They stay as the area's history (`History`); what
   * is let go of that goes after the snapshot was read back the same. Rejects, and puts the earlier one back, where it was not.
   */
  compact(board: string, area: AreaName, through: number, snapshot: Uint8Array): Promise<void>;
  /**
   * The area as it stood at this instant: up to the last update that was written by then or, where the history between is no
   * longer whole, as near before it as can be rebuilt. Null where the history does not reach back so far.
   * @param before snapshots of updates from this number on are not used: one of them is damaged
   */
  asOf(board: string, area: AreaName, at: string, before?: number): Promise<EarlierArea | null>;
  /** What the log holds after `asOf` of the same instant, oldest first. */
  writings(board: string, area: AreaName, since: string): Promise<Written[]>;
  /** Which areas were written by whom, an entry an hour, newest first; what the server wrote itself is left out. */
  hours(board: string): Promise<WrittenHour[]>;
  /**
   * Makes an area begin anew with this snapshot, for one that cannot be opened: what its snapshot was is set aside with the
   * reason, and its log stays as history. False, and nothing done, where `head` is no longer its last update.
   */
  replace(
    board: string,
    area: AreaName,
    head: number,
    snapshot: Uint8Array,
    why: { reason: string; at: string },
  ): Promise<boolean>;
  /** Takes an update or snapshot with these bytes out of the area, and keeps it beside. The area's head stays. */
  setAside(board: string, aside: SetAside): Promise<void>;
  /** What was set aside of a board, oldest first. */
  aside(board: string): Promise<SetAside[]>;
}

export interface StoredLink {
  id: string;
  board: string;
  role: Role;
  hash: string;
  madeAt: string;
  endsAt: string | null;
  /** A revoked link stays, so that a browser that held it can be told. */
  revokedAt: string | null;
  /** The link with which it was made; null when the instructor or the shell made it. */
  parent: string | null;
  /** Since when it may read only; null while it may write. */
  frozenAt: string | null;
}

export interface LinkTable {
  /** One whose parent was revoked or frozen meanwhile is so too as it is added. */
  add(link: StoredLink): Promise<void>;
  byHash(hash: string): Promise<StoredLink | null>;
  /** Those that were not revoked, oldest first. */
  of(board: string): Promise<(StoredLink & { browsers: number })[]>;
  /** All that a board ever had and that are still known, revoked or not, oldest first. */
  everOf(board: string): Promise<StoredLink[]>;
  /** With it all that were made with it, however far down, and their calendar addresses; those that it revoked. */
  revoke(board: string, id: string, at: string): Promise<string[]>;
  /** Lets it, and all that were made with it, only read, or (null) write again; those that are so from now on. */
  freeze(board: string, id: string, at: string | null): Promise<string[]>;
  /** Those made with it stand as if nobody had made them with a link. */
  release(board: string, id: string): Promise<void>;
  /** The topmost of those with which it was made, one with the other: itself where it was made with none. */
  rootOf(id: string): Promise<string>;
  /** Removes those of these links that no browser has opened. */
  removeUnopened(ids: readonly string[]): Promise<void>;
}

export interface SessionTable {
  add(hash: string, madeAt: string): Promise<void>;
  has(hash: string): Promise<boolean>;
  /** Makes it the instructor's until then. */
  signIn(hash: string, until: string): Promise<void>;
  signOut(hash: string): Promise<void>;
  /** Ends all that are the instructor's but this one, and names them. */
  signOutAll(except: string | null): Promise<string[]>;
  /** Until when it is the instructor's; null when it is not. */
  instructorUntil(hash: string): Promise<string | null>;
  grant(hash: string, link: string): Promise<void>;
  /** Gives all that one session holds to another in its place. */
  moveGrants(from: string, to: string): Promise<void>;
  /** The links whose grants it holds. */
  links(hash: string): Promise<StoredLink[]>;
}

export interface StoredFile {
  id: string;
  bytes: number;
  type: string;
}

/** Which board may fetch which file: written by uploading, never by a document's contents. */
export interface FileTable {
  /** Keeps the bytes that lie in the file `path`, which is used up: it may be moved. */
  add(board: string, file: StoredFile, path: string): Promise<void>;
  of(board: string, id: string): Promise<StoredFile | null>;
  ofBoard(board: string): Promise<StoredFile[]>;
  /** The bytes from `from` up to and including `to`. */
  read(id: string, from: number, to: number): ReadableStream<Uint8Array>;
  /** Removes files that no board has any more, and names them. */
  removeUnused(): Promise<string[]>;
}

export interface StoredCalendar {
  hash: string;
  board: string;
  role: Role;
  link: string | null;
  membership: string;
}

export interface CalendarTable {
  /** In place of the one that this membership had for the board. */
  put(calendar: StoredCalendar): Promise<void>;
  byHash(hash: string): Promise<StoredCalendar | null>;
}

/** Few single values as JSON text: the instructor's account, the studio's moves. */
export interface SettingTable {
  get(key: string): Promise<string | null>;
  set(key: string, value: string): Promise<void>;
  /** False when there is one already. */
  setOnce(key: string, value: string): Promise<boolean>;
  /** False, and nothing is written, where the value is not `before`. */
  replace(key: string, before: string, after: string): Promise<boolean>;
}
