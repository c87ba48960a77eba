import { instant, isoDate, role } from '../core/areas/people.ts';
import { move } from '../core/dance/move.ts';
import { danceStrip } from '../core/handover/danceStripShape.ts';
import { z } from '../core/zod.ts';
import { PAGE } from './listPage.ts';

/** Requests and answers of the routes in DEVELOPERS.md, in its order. */
const name = z.string().check(z.trim(), z.minLength(1, 'Please give a name.'), z.maxLength(80));
const passphrase = z.string().check(z.minLength(10, 'Please take at least 10 characters.'), z.maxLength(200));
const id = z.string().check(z.minLength(1), z.maxLength(64));

export const setUpRequest = z.object({ code: z.string().check(z.maxLength(40)), name, passphrase });
export type SetUp = z.infer<typeof setUpRequest>;
export const signInRequest = z.object({ passphrase: z.string().check(z.maxLength(200)) });
/** A passphrase in place of the one until now. */
export const newPassphraseRequest = z.object({ old: z.string().check(z.maxLength(200)), passphrase });
export type NewPassphrase = z.infer<typeof newPassphraseRequest>;
export const done = z.object({ done: z.literal(true) });

/** A board in the studio's list. */
export const boardSummary = z.object({
  id,
  one: z.string(),
  other: z.string(),
  /** Day of the party; null when it was not given. */
  date: z.nullable(isoDate),
  /** Of the party, as somebody wrote it; and the day that it was there, else where the list is read, when this was said. */
  zone: z.nullable(z.string()),
  today: isoDate,
  venue: z.string(),
  /** Artist and title, as far as they are known; none without a song. */
  song: z.array(z.string()),
  /** Length of the music as played, in seconds; null without an edit. */
  floorLength: z.nullable(z.number()),
  /** The dance at one glance; null while the song's counts are not known. */
  strip: z.nullable(danceStrip),
  findings: z.object({ blocks: z.int(), warns: z.int(), hints: z.int() }),
  /** Sentences of the most pressing findings, first things first. */
  lacks: z.array(z.string()),
  /** Which of the five stages are not settled, in their order, and by whom they are owed; without what `lacks` says already. */
  owed: z.array(z.object({ what: z.string(), by: z.string() })),
  /** Of the couple to their instructor: without an answer, and of these not read yet. */
  questions: z.object({ open: z.int(), unread: z.int() }),
  /** Why not all of it could be read; the rest then holds what could. Null where it was. */
  apart: z.nullable(z.string()),
});
export type BoardSummary = z.infer<typeof boardSummary>;
/** A page of the list: `from` counts from 0; `named` holds words of which each stands in one of the two names. */
export const boardsQuery = z.object({
  from: z._default(z.pipe(z.transform(Number), z.int().check(z.minimum(0))), 0),
  count: z._default(z.pipe(z.transform(Number), z.int().check(z.minimum(1), z.maximum(200))), PAGE),
  named: z._default(z.string().check(z.trim(), z.maxLength(80)), ''),
});
export type BoardsQuery = z.infer<typeof boardsQuery>;
/** `total`: of all pages together. */
export const boardsAnswer = z.object({ boards: z.array(boardSummary), total: z.int() });
export const newBoardRequest = z.object({
  one: name,
  other: name,
  date: z.nullable(isoDate),
  venue: z.string().check(z.trim(), z.maxLength(120)),
});
export type NewBoard = z.infer<typeof newBoardRequest>;
export const newBoardAnswer = z.object({ id });
/** A board from a file: `recording` names the one it is about, whose bytes were not in the file; null without one. */
export const importAnswer = z.object({ id, recording: z.nullable(z.string()) });

/** `days` until the link ends; null for one that holds until it is revoked. */
export const newLinkRequest = z.object({
  role,
  days: z.nullable(z.int().check(z.minimum(1), z.maximum(730))),
});
export const newLinkAnswer = z.object({ id, url: z.url() });
export const linkSummary = z.object({
  id,
  role,
  madeAt: instant,
  endsAt: z.nullable(instant),
  /** In how many browsers it was opened. */
  browsers: z.int(),
  /** The link with which it was made; null of one that the instructor made. */
  parent: z.nullable(id),
  /** Since when its people may read only; null while they may write. */
  frozenAt: z.nullable(instant),
});
export type LinkSummary = z.infer<typeof linkSummary>;
/** Whether a link's people may read only. */
export const freezeRequest = z.object({ frozen: z.boolean() });
/** What becomes of links that were made with one that is taken back. */
export const madeWith = z.enum(['end', 'keep']);
export type MadeWith = z.infer<typeof madeWith>;
export const linksAnswer = z.object({ links: z.array(linkSummary) });

const area = z.enum(['plan', 'lessons', 'remarks', 'answer', 'show']);
/** What the instructor is shown of a board's history. */
export const historyAnswer = z.object({
  one: z.string(),
  other: z.string(),
  /** Parts that are damaged and were set apart. */
  apart: z.array(area),
  /** When something was written and by whom, newest first, an entry an hour; `link` is null for the signed-in instructor. */
  hours: z.array(z.object({ at: instant, area, by: z.object({ link: z.nullable(z.string()), role }) })),
  /** When those of the links were made that still hold. */
  links: z.array(z.object({ id, madeAt: instant })),
});
export type BoardHistory = z.infer<typeof historyAnswer>;
export const restoreRequest = z.object({ area, at: instant });
export const takeBackRequest = z.object({ link: id, since: instant });
/** `left`: sentences on what could not be taken back. */
export const takeBackAnswer = z.object({ undone: z.int(), left: z.array(z.string()) });
/** A board file; and which parts of it are as of an earlier instant, or empty (null) because nothing of them can be read. */
export const readableAnswer = z.object({
  file: z.unknown(),
  earlier: z.array(z.object({ area, at: z.nullable(instant) })),
});

export const audioAnswer = z.object({
  id: z.string().check(z.length(64)),
  bytes: z.int().check(z.minimum(1)),
});

export const papers = [
  'dj.pdf',
  'couple.pdf',
  'planner.pdf',
  'planner.ics',
  'planner.csv',
  'moves.vtt',
  'board.json',
] as const;
export type Paper = (typeof papers)[number];

export const calendarAnswer = z.object({ url: z.url() });

/** The studio's own moves, by a name of their own. */
export const studioMoves = z.object({ moves: z.array(z.extend(move, { id })).check(z.maxLength(500)) });
export type StudioMoves = z.infer<typeof studioMoves>;
