import type { Plan } from '../areas/plan.ts';
import { laidOut } from '../dance/place.ts';
import type { FloorScore } from '../edit/score.ts';
import type { FloorTime } from '../units.ts';
import { leftOutParts } from './danceStrip.ts';
import { walkOnWords } from './moveWords.ts';
import { inkOf, type Ribbon, type RowInk } from './sheetInk.ts';
import { columnsOf, rowCapacity, rowsOf, type SheetRow } from './sheetRows.ts';

/** From count to count of a row, from 0, with fractions. */
interface Span {
  from: number;
  to: number;
}

/** A phrase, or a part of a long one, as it is drawn on paper. Places are counts from the row's first one. */
export interface PaperRow {
  /** Name of the section, where this row is its first; empty else. */
  section: string;
  floor: FloorTime;
  /** Counts in it; 0 for music without counts, which lasts `seconds`. */
  counts: number;
  seconds: number;
  /** Where its bars begin, and what dancers say on its first counts. */
  bars: number[];
  said: number[];
  /** The word that opens it; empty where none is marked. */
  word: string;
  /** That word is the couple's signal for the ending. */
  isSignal: boolean;
  basics: Span[];
  preparations: Span[];
  /** `points`: it lands on the closing pose. */
  moves: (Span & Pick<Ribbon, 'begins' | 'finishes' | 'points'> & { words: string })[];
  walk: (Span & { words: string }) | null;
  firstStep: number | null;
  pose: (Span & { words: string }) | null;
  /** What is left out after this row: "left out: verse 2, 0:43". */
  leftOut: string[];
}

export interface PaperSheet {
  rows: PaperRow[];
  /** Counts of the longest row: all share one scale. */
  columns: number;
  /** What is left out before the first row. */
  leftOutBefore: string[];
}

/** The rows and the ink of the sheet on the screen, for paper: without what the edit leaves out. null while the counts are not known. */
export function paperSheetOf(plan: Plan, score: FloorScore | null): PaperSheet | null {
  if (!score || score.counts.length === 0) return null;
  const isLeftOut = new Set(laidOut(plan, score).flatMap((one) => (one.removedByEdit ? [one.id] : [])));
  const played = { ...plan, placed: plan.placed.filter(({ id }) => !isLeftOut.has(id)) };
  const drawn = rowsOf(score, rowCapacity(score.countsPerBar, false));
  const inks = inkOf(played, score, drawn);
  const rows = drawn.map((row, i) => paperRow(plan, score, row, inks[i]!, drawn[i - 1] ?? null));
  const before: string[] = [];
  for (const { at, words } of leftOutParts(plan, score)) {
    const row = rows.findLast(({ floor }) => floor < at - score.interval / 2);
    (row?.leftOut ?? before).push(`left out: ${words}`);
  }
  return { rows, columns: columnsOf(drawn), leftOutBefore: before };
}

function paperRow(
  plan: Plan,
  score: FloorScore,
  row: SheetRow,
  ink: RowInk,
  before: SheetRow | null,
): PaperRow {
  const span = ({ from, to }: Span): Span => ({ from: from - row.first, to: to - row.first });
  const { section, floor, counts } = row;
  return {
    section: section === null || section === before?.section ? '' : score.sections[section]!.name,
    ...{ floor, counts, seconds: row.kind === 'free' ? row.end - floor : 0 },
    ...ruler(score, row),
    word: ink.cue?.word ?? '',
    isSignal: ink.signal,
    basics: ink.basics.map(span),
    preparations: ink.tapers.map(span),
    moves: ink.ribbons.map(({ label, begins, finishes, points, ...ribbon }) => ({
      ...span(ribbon),
      ...{ begins, finishes, points, words: label },
    })),
    walk: ink.walk && { ...span(ink.walk), words: ink.walkWords ? walkOnWords(plan.walkOn) : '' },
    firstStep: ink.firstStep === null ? null : ink.firstStep - row.first,
    pose: ink.hold && { ...span(ink.hold), words: ink.landing?.words ?? '' },
    leftOut: [],
  };
}

/** Twos and fours are counted over two bars of four, "1 to 8", threes "1 2 3"; counts of no phrase lead nowhere. */
function ruler(score: FloorScore, { kind, first, counts }: SheetRow): Pick<PaperRow, 'bars' | 'said'> {
  const all = score.counts.slice(first, first + counts);
  const inThrees = score.countsPerBar % 3 === 0;
  return {
    bars: all.flatMap(({ inBar, assumed }, i) => (inBar === 0 && !assumed ? [i] : [])),
    said:
      kind === 'phrase'
        ? all.slice(0, inThrees ? 3 : 8).map((one) => (inThrees ? one.inBar % 3 : one.inPhrase % 8) + 1)
        : [],
  };
}
