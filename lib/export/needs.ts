import { type EntryFacts, entryFacts, LENGTH_OPEN } from '../core/agreed/entry.ts';
import type { Board } from '../core/areas/board.ts';
import type { WallTime } from '../core/calendar.ts';
import { type NightCard, nightCard } from '../core/handover/night.ts';
import { bad, good, type Result } from '../core/result.ts';
import type { Paper } from '../protocol/api.ts';

/** What a calendar cannot do without. Problem: `no-time`. */
export function calendarTime({
  day,
  time,
  startsAt,
  total,
  missing,
}: EntryFacts): Result<{ startsAt: WallTime; total: number }> {
  if (startsAt && total !== null) return good({ startsAt, total });
  const isOpen = missing.includes(LENGTH_OPEN);
  const lacks = [day ? '' : 'a date', total === null && !isOpen ? 'a song' : '']
    .filter(Boolean)
    .join(' and ');
  const needs = [
    time ? '' : 'the run of show needs a time',
    lacks && `the board needs ${lacks}`,
    isOpen ? 'the DJ needs a copy that fits, since nobody knows how long it lasts' : '',
  ];
  return bad('no-time', `There is no calendar yet: ${needs.filter(Boolean).join(', and ')}.`);
}

/** The card that the couple's sheet is made of. Problem: `no-song`. */
export function coupleCard(board: Board): Result<NightCard> {
  const card = nightCard(board);
  return card
    ? good(card)
    : bad('no-song', 'There is no couple’s sheet yet: the song and its counts come first.');
}

/** A board with something to play, which the DJ's sheet is made of. Problem: `no-song`. */
export function playable(board: Board): Result<Board> {
  return board.plan.recording
    ? good(board)
    : bad('no-song', 'There is no DJ’s sheet yet: the song comes first.');
}

/** Papers that need more than a board, each asking what its maker asks. */
const needs: Partial<Record<Paper, (board: Board) => Result<unknown>>> = {
  'planner.ics': (board) => calendarTime(entryFacts(board)),
  'couple.pdf': coupleCard,
  'dj.pdf': playable,
};

/** Why a paper cannot be made of the board as it is; null where it can. */
export function lackOf(paper: Paper, board: Board): string | null {
  const has = needs[paper]?.(board);
  return has && !has.ok ? has.problem.sentence : null;
}

/** Scripts and signs that the papers' fonts have, as far as a page can tell without them; a sheet says itself where one lacks a letter. */
const PRINTED =
  /[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Devanagari}\p{Script=Thai}\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Script=Bopomofo}\p{M}\p{N}\p{P}\p{Z}\p{Cc}\p{Cf}\p{Sc}+<=>~×−|^`´¨¯°©®]/u;

/** Letters of a board that no PDF of it can print, each once. */
export function lostLetters({ plan, show }: Board): string[] {
  const { couple, title, venue, recordingWords, cues, walkOn, ending } = plan;
  const names = plan.moves.map(({ name }) => name);
  const written = JSON.stringify([couple, title, venue, recordingWords, cues, walkOn, ending, names, show]);
  return [...new Set([...written].filter((letter) => !PRINTED.test(letter)))];
}
