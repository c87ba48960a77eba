import type { AreaName, Board } from '../core/areas/board.ts';
import type { Role } from '../core/areas/people.ts';
import type { Instant } from '../core/calendar.ts';
import type { Result } from '../core/result.ts';
import type { MadePaper, PaperWish } from '../export/papers.ts';
import type {
  BoardSummary,
  BoardsQuery,
  LinkSummary,
  MadeWith,
  NewBoard,
  NewPassphrase,
  Paper,
  SetUp,
  StudioMoves,
} from '../protocol/api.ts';
import type { Grant } from './session.ts';

/**
 * What routes and pages ask of the running server. They are compiled into a module graph of their own, so the server hands
 * this over on globalThis; that keeps documents and the store out of them altogether.
 */
export interface Services {
  instructor: {
    exists(): Promise<boolean>;
    /**
     * The code was printed on the console; answers with the token of the new session, which takes over what the browser's
     * session before could open.
     */
    setUp(words: SetUp, peer: string, before: string | null): Promise<Result<string>>;
    signIn(passphrase: string, peer: string, before: string | null): Promise<Result<string>>;
    /** Signs everybody else out: whoever knew the old one may be signed in. */
    changePassphrase(token: string, words: NewPassphrase, peer: string): Promise<Result<void>>;
    /** Ends all of the instructor's sessions but this one. */
    signOutElsewhere(token: string): Promise<Result<void>>;
    signOut(token: string): Promise<void>;
    /** The instructor's name, when this session is theirs. */
    of(token: string | null): Promise<Result<string>>;
  };
  grants: {
    /** Adds what the link gives to the session, or to a new one. `peer`: the address that asks; none for the server itself. */
    join(
      link: string,
      token: string | null,
      peer?: string,
    ): Promise<Result<{ token: string; board: string; role: Role }>>;
    /** All that this browser may open, for a page that offers a choice. */
    all(token: string | null): Promise<Grant[]>;
    of(token: string | null, board: string, role: Role): Promise<Result<Grant>>;
  };
  boards: {
    /**
     * A page of them: those to come, the nearest first; without a date; danced, the latest first. Today is where each party is,
     * else in the zone of `reader`, else where the server is.
     */
    list(
      reader: string | null,
      page: Pick<BoardsQuery, 'from' | 'count'> & Partial<BoardsQuery>,
    ): Promise<{ boards: BoardSummary[]; total: number }>;
    make(words: NewBoard): Promise<string>;
    /** A board that holds this already: the demo, an import. */
    makeFrom(board: Board): Promise<Result<string>>;
    /** What this role may read; areas it may not are null. Refused as `apart` where one of them was set apart. */
    read(board: string, role: Role): Promise<Result<Board>>;
    /** Whose board it is, as far as that can be read, and which of its areas were set apart. */
    about(board: string): Promise<Result<{ one: string; other: string; apart: AreaName[] }>>;
    remove(board: string): Promise<Result<void>>;
  };
  links: {
    of(grant: Grant): Promise<LinkSummary[]>;
    /** The token is told this once. It ends no later than the link with which it is made. */
    make(grant: Grant, role: Role, days: number | null): Promise<Result<{ id: string; token: string }>>;
    /** Ends those made with it too, unless the instructor keeps them as their own. */
    revoke(grant: Grant, link: string, madeWith?: MadeWith): Promise<Result<void>>;
    /** Lets its people, and those of links made with it, read only, or write again; for the instructor. */
    freeze(grant: Grant, link: string, frozen: boolean): Promise<Result<void>>;
    /** For whoever runs the server: takes back those of these links that no browser has opened. */
    removeUnopened(links: readonly string[]): Promise<void>;
  };
  /** What a board was, and putting it right: for the instructor only. What is undone stays in the history itself. */
  history: {
    /** When something was written and by whom, newest first, an entry an hour. */
    hours(grant: Grant): Promise<WrittenAt[]>;
    /**
     * Takes back all that a link, and those made with it, wrote since then. `left`: sentences on what could not be, because
     * others built on it, or the board's rules do not let it.
     */
    takeBack(grant: Grant, link: string, since: Instant): Promise<Result<{ undone: number; left: string[] }>>;
    /** Makes an area what it was then, also one that is set apart. */
    restore(grant: Grant, area: AreaName, at: Instant): Promise<Result<void>>;
    /**
     * What of a damaged board can be read, as a board file. `earlier`: the areas that are not as they are now but as of an earlier
     * instant, or empty (null) because nothing of them can be read.
     */
    readable(
      grant: Grant,
    ): Promise<Result<{ file: Board; earlier: { area: AreaName; at: Instant | null }[] }>>;
  };
  audio: {
    /** Keeps a file for the board, named by the SHA-256 of its bytes; on refusal nothing is kept. */
    keep(board: string, bytes: ReadableStream<Uint8Array>): Promise<Result<{ id: string; bytes: number }>>;
    of(board: string, id: string): Promise<Result<StoredAudio>>;
  };
  moves: { read(): Promise<StudioMoves>; write(moves: StudioMoves): Promise<void> };
  papers: {
    /** What is to be taken along, as a file. Problems: what the board lacks for it, and `busy`. */
    make(
      grant: Pick<Grant, 'board' | 'role' | 'root'>,
      paper: Paper,
      wish: PaperWish,
    ): Promise<Result<MadePaper>>;
  };
  calendar: {
    /** A new private address; the one this membership had before ends. */
    make(grant: Grant): Promise<string>;
    of(token: string): Promise<Result<{ board: string; role: Role }>>;
  };
  /** Few single values as text, by a key of one's own. */
  settings: {
    get(key: string): Promise<string | null>;
    set(key: string, value: string): Promise<void>;
    /** False when there is one already. */
    setOnce(key: string, value: string): Promise<boolean>;
  };
  /** Address under which people reach the server, when whoever runs it has set one. */
  origin: string | null;
  /** Whether everything works, and a word on each part. */
  health(): Promise<{ healthy: boolean; parts: Record<string, string> }>;
  /** Prometheus' text format. */
  metrics(): string;
}

/** Something was written in an area: last at this instant of that hour, by these. */
export interface WrittenAt {
  at: Instant;
  area: AreaName;
  /** `link` is null for the signed-in instructor. */
  by: { link: string | null; role: Role };
}

export interface StoredAudio {
  bytes: number;
  type: string;
  /** The bytes from `from` up to and including `to`. */
  read(from: number, to: number): ReadableStream<Uint8Array>;
}

const KEY = Symbol.for('larkstep.services');
type Holder = { [KEY]?: Services };

export function provideServices(services: Services | undefined): void {
  (globalThis as Holder)[KEY] = services;
}

/** Throws where the server has not started them: a page must not be served without. */
export function services(): Services {
  const found = (globalThis as Holder)[KEY];
  if (!found) throw new Error('The server has not provided its services: start it with npm start.');
  return found;
}
