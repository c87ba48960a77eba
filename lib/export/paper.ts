import type { DanceStrip } from '../core/handover/danceStripShape.ts';
import type { PaperSheet } from '../core/handover/paperSheet.ts';

export type PaperSize = 'A4' | 'LETTER';

/** A part of a paper, as facts; how it is drawn, the writer says (`pdf/`). */
export type Block =
  | { kind: 'heading'; words: string }
  | { kind: 'words'; words: string; wrong?: boolean }
  /** Large figures side by side, each with its label and a line of words; gold for the closing pose alone. */
  | { kind: 'figures'; all: { label: string; big: string; words: string; gold?: boolean }[] }
  /** A line of a list: a time or the name of a fact, the word that is listened for, and the rest. */
  | { kind: 'row'; time?: string; name?: string; word?: string; rest: string }
  /** The whole dance at one glance, to scale. */
  | { kind: 'strip'; strip: DanceStrip }
  /** The phrase sheet, drawn: a phrase a row. */
  | { kind: 'sheet'; sheet: PaperSheet }
  /** What follows stands on a page of its own. */
  | { kind: 'page' };

/** A paper that is handed out. */
export interface Paper {
  title: string;
  under: string;
  size: PaperSize;
  blocks: Block[];
  /** Small at its end. */
  cautions: string[];
  /** At the foot of every page. */
  foot: string;
}
