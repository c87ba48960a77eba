import { dayWords } from '@/lib/core/areas/days.ts';
import type { LostPlace } from '@/lib/core/areas/lost.ts';
import { floorOf } from '@/lib/core/dance/clock.ts';
import { sectionNames } from '@/lib/core/edit/sectionNames.ts';
import { clock, type RecordTime } from '@/lib/core/units.ts';
import type { BoardState } from '../_client/boardState.ts';
import { calledAt } from './called.ts';

type Board = BoardState['board'];
type LostHere = BoardState['lost'][number];
type Entry = { readonly [field: string]: unknown };

/** Letters of a value in a sentence, and on a button. */
const LONG = { said: 60, take: 20 } as const;
type Length = (typeof LONG)[keyof typeof LONG];

/** What happened, in a sentence or two, and what a tap does about it. */
export function lostWords(lost: LostHere, board: Board): { said: string; take: string } {
  const called = calledAt(lost);
  const told = (value: unknown, length: Length) => valueWords(lost, value, board, length);
  const [mine, short] = [told(lost.lost, LONG.said), told(lost.lost, LONG.take)];
  if (lost.entry) {
    const [one, other] = lost.mine ? ['Somebody', 'you'] : ['One of you', 'another'];
    return {
      said: `${one} took ${goneWords(lost, lost.entry, board)} away while ${other} changed ${called}${mine ? ` to ${mine}` : ''}.`,
      take: short ? `Bring it back with ${short}` : 'Bring it back',
    };
  }
  const two = lost.mine ? 'You and somebody else' : 'Two of you';
  const of = ofWords(lost, board);
  // Too much to be said in a sentence: it goes by its name.
  if (mine === null) {
    return {
      said: `${two} changed ${called}${of} at the same time: ${lost.mine ? 'theirs stands, yours does not' : 'one stands, the other does not'}.`,
      take: lost.mine ? 'Take yours' : 'Take the other',
    };
  }
  const stands = told(lost.stands, LONG.said) || 'nothing';
  const not = mine === '' ? `though ${lost.mine ? 'you' : 'one of you'} left it empty` : '';
  return {
    said: `${two} ${typeof lost.lost === 'string' ? 'wrote' : 'changed'} ${called}${of} at the same time: ${stands} stands, ${not || `${lost.mine ? `yours, ${mine},` : mine} does not`}.`,
    take: short ? `Take ${short}` : 'Empty it',
  };
}

/** As people read it; empty for nothing, null for what has no short form. */
function valueWords(place: LostPlace, value: unknown, board: Board, length: Length): string | null {
  if (value === null || value === undefined || value === '') return '';
  const field = 'register' in place ? place.register : place.field;
  if (typeof value === 'number') return isTime(field) ? timeWords(value, board) : String(value);
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value !== 'string' || value.length > LONGEST) return null;
  if ('collection' in place && place.collection === 'placed' && field === 'move')
    return quoted(moveName(board, value), length);
  const [, day, time] = ISO.exec(value) ?? [];
  return day ? [dayWords(day), time].filter(Boolean).join(', ') : quoted(value, length);
}

/** Letters beyond which a text is none that somebody wrote into a line. */
const LONGEST = 2000;
const ISO = /^(\d{4}-\d{2}-\d{2})(?:T(\d{2}:\d{2}).*)?$/;
const isTime = (field: string): boolean => field === 'at' || field === 'start';

/** On the clock of the music as it is played; of what the edit leaves out, on the recording's. */
function timeWords(at: number, { plan }: Board, decimals = 1): string {
  const floor = floorOf(plan, at as RecordTime);
  return floor === null ? `${clock(at, decimals)} of the recording` : clock(floor, decimals);
}

function quoted(text: string, length: Length): string {
  const letters = [...text.replace(/\s+/g, ' ')];
  return `“${letters.length > length ? `${letters.slice(0, length).join('').trimEnd()}…` : letters.join('')}”`;
}

const moveName = ({ plan }: Board, id: unknown): string =>
  plan.moves.find((move) => move.id === id)?.name ?? 'a move';

/** Which of several it is, unless the value says so: ` at 0:17`, ` of “Box step”`. */
function ofWords(place: LostPlace, board: Board): string {
  if ('register' in place) return '';
  const { collection, id, field } = place;
  const entries = (board.plan as unknown as Entry)[collection] ?? (board.show as Entry | null)?.[collection];
  const entry = (entries as Entry[] | undefined)?.find((one) => one.id === id);
  if (!entry) return '';
  const name = nameOf(collection, entry, board);
  const at = typeof entry.at === 'number' && field !== 'at' ? ` at ${timeWords(entry.at, board, 0)}` : '';
  return name === '' || isName(collection, field) ? at : ` of ${quoted(name, LONG.take)}${at}`;
}

const isName = (collection: string, field: string): boolean =>
  (NAMES[collection] ?? '') === field || (collection === 'placed' && field === 'move');
/** The field by which people know an entry. */
const NAMES: Readonly<Record<string, string>> = {
  cues: 'word',
  moves: 'name',
  moments: 'what',
  marks: 'name',
};

function nameOf(collection: string, entry: Entry, board: Board): string {
  if (collection === 'placed') return moveName(board, entry.move);
  if (collection === 'sections')
    return sectionNames(board.plan.sections).get(String(entry.id)) ?? String(entry.name || entry.kind);
  return String(entry[NAMES[collection] ?? ''] ?? '');
}

const NOUNS: Readonly<Record<string, string>> = {
  sections: 'a section',
  cues: 'a cue word',
  moves: 'a move',
  placed: 'a move',
  moments: 'a moment',
  marks: 'a mark',
};

/** What was taken away: `a cue word`, `the move “Box step”`. */
function goneWords(place: LostPlace, entry: Entry, board: Board): string {
  if ('register' in place) return '';
  const noun = NOUNS[place.collection] ?? 'it';
  const name = isName(place.collection, place.field) ? '' : nameOf(place.collection, entry, board);
  return name === '' ? noun : `${noun.replace(/^a /, 'the ')} ${quoted(name, LONG.take)}`;
}
