import type { Question } from '@/lib/core/agreed/question.ts';
import type { AreaName, Board } from '@/lib/core/areas/board.ts';
import type { Role } from '@/lib/core/areas/people.ts';
import type { Day } from '@/lib/core/calendar.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { Checked } from './checking.ts';
import type { LostHere } from './losses.ts';

/** Who looks at the board in this page; from the server. */
export interface Me {
  board: string;
  role: Role;
  membership: string;
  name: string;
  /** The instructor has stopped this link from writing. */
  frozen: boolean;
}

/** Somebody who is here now, and where they look. */
export interface Presence {
  key: number;
  name: string;
  role: Role;
  me: boolean;
  /** Id of the placed move, section, phrase (`phrase:3`) or page they have in hand; '' for nothing in particular. */
  at: string;
}

export interface Refusal {
  area: AreaName;
  sentence: string;
  /** What this page held when it was refused, as JSON to keep. */
  kept: string;
}

/** What the sheet shows of a board, of now or of a mark. */
export type SheetState = Pick<BoardState, 'board' | 'checked' | 'isChecked' | 'people' | 'today'>;

/** Everything a screen shows, derived anew after each change; the same object while nothing changes. */
export interface BoardState {
  me: Me;
  board: Board;
  score: FloorScore | null;
  /** Of this board, or for a moment of the one before; null until the checks have spoken for the first time. */
  checked: Checked | null;
  /** They have spoken of this very board. */
  isChecked: boolean;
  /** Where the party is; else where this page is. */
  today: Day;
  /** All readable areas have come from the server or from this device. */
  ready: boolean;
  /** saved: stored by the server. saving: on its way. offline: here only, until there is a network. */
  saving: 'saved' | 'saving' | 'offline';
  /** What is written here outlives the page on this device. */
  kept: boolean;
  people: Presence[];
  refusal: Refusal | null;
  /** Set when this page may not go on: the link is outdated, or the page must be loaded anew. */
  closed: string | null;
  /** Parts that are damaged and were set apart, by name and parted by spaces; the others stand. */
  apart: string;
  /** Why the server is not there just now, when it said so; what is written is kept and sent later. */
  passing: string | null;
  /** What is to be answered before a change is made; null for nothing. */
  question: Question | null;
  canUndo: boolean;
  canRedo: boolean;
  /** Why the last undo or redo left something as it is; empty when it did not. */
  left: string;
  /** What does not stand because somebody else wrote at the same time. */
  lost: readonly LostHere[];
}
