import { playedEdit } from '../agreed/played.ts';
import type { Plan } from '../areas/plan.ts';
import { basicStretches } from '../dance/basics.ts';
import { songDuration } from '../dance/clock.ts';
import { type SolvedEnding, solveEnding } from '../dance/ending.ts';
import { type LaidMove, laidOut } from '../dance/place.ts';
import { planWalkOn } from '../dance/walkOn.ts';
import { compileEdit } from '../edit/compile.ts';
import type { FloorScore } from '../edit/score.ts';
import { clock, type FloorTime } from '../units.ts';
import { leftOutParts } from './danceStrip.ts';
import { moveWords, walkOnWords } from './moveWords.ts';

/** From count to count of a row, from 0, with fractions; whether what lies there begins and ends in this row. */
interface Stretch {
  from: number;
  to: number;
  begins: boolean;
  finishes: boolean;
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
  basics: Stretch[];
  preparations: Stretch[];
  /** `points`: it lands on the closing pose. */
  moves: (Stretch & { words: string; points: boolean })[];
  walk: (Stretch & { words: string }) | null;
  firstStep: number | null;
  pose: (Stretch & { words: string }) | null;
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

/** More counts than this in one row no eye can count. */
const MOST_COUNTS = 32;

/** The phrase sheet for paper; null while the song's counts are not known. */
export function paperSheetOf(plan: Plan, score: FloorScore | null): PaperSheet | null {
  if (!score || score.counts.length === 0) return null;
  const rows = rowsOf(plan, score);
  const solved = solveEnding(plan, score);
  const put = putterOf(rows);
  for (const { from, counts } of basicStretches(plan, score))
    put(from, from + counts, (row, stretch) => row.basics.push(stretch));
  putMoves(plan, score, solved.ok ? solved.value : null, put);
  putWalk(plan, score, put);
  if (solved.ok) putPose(plan, solved.value, score, put);
  const before: string[] = [];
  for (const { at, words } of leftOutParts(plan, score)) {
    const row = rows.findLast(({ row }) => row.floor < at - score.interval / 2);
    (row?.row.leftOut ?? before).push(`left out: ${words}`);
  }
  const columns = Math.max(1, ...rows.map(({ row }) => row.counts));
  return { rows: rows.map(({ row }) => row), columns, leftOutBefore: before };
}

interface Placed {
  row: PaperRow;
  first: number;
}

function rowsOf(plan: Plan, score: FloorScore): Placed[] {
  const { counts, countsPerBar } = score;
  const capacity = Math.max(1, Math.floor(MOST_COUNTS / countsPerBar)) * countsPerBar;
  const rows: Placed[] = [];
  for (let from = 0; from < counts.length; ) {
    let to = from + 1;
    while (to < counts.length && counts[to]!.phrase === counts[from]!.phrase) to++;
    // A longer one is cut into rows of whole bars and nearly equal length.
    const parts = Math.max(1, Math.ceil((to - from) / capacity));
    const size = Math.ceil((to - from) / countsPerBar / parts) * countsPerBar;
    for (let at = from; at < to; at += size)
      rows.push({ row: rowOf(score, at, Math.min(size, to - at)), first: at });
    from = to;
  }
  for (const { floor, end, counts: none, first } of score.sections)
    if (none === 0) rows.push({ row: { ...blank(floor), seconds: end - floor }, first });
  rows.sort((a, b) => a.row.floor - b.row.floor || a.first - b.first);
  nameSections(score, rows);
  putWords(plan, score, rows);
  return rows;
}

const blank = (floor: FloorTime): PaperRow => ({
  ...{ section: '', floor, counts: 0, seconds: 0, bars: [], said: [], word: '', isSignal: false },
  ...{ basics: [], preparations: [], moves: [], walk: null, firstStep: null, pose: null, leftOut: [] },
});

function rowOf(score: FloorScore, first: number, counts: number): PaperRow {
  const all = score.counts.slice(first, first + counts);
  const inThrees = score.countsPerBar % 3 === 0;
  return {
    ...blank(all[0]!.floor),
    counts,
    bars: all.flatMap(({ inBar, assumed }, i) => (inBar === 0 && !assumed ? [i] : [])),
    // Twos and fours are counted over two bars of four, "1 to 8", threes "1 2 3"; counts of no phrase lead nowhere.
    said:
      all[0]!.phrase < 0
        ? []
        : all.slice(0, inThrees ? 3 : 8).map((one) => (inThrees ? one.inBar % 3 : one.inPhrase % 8) + 1),
  };
}

function nameSections({ sections, interval }: FloorScore, rows: readonly Placed[]): void {
  let last = -1;
  for (const { row } of rows) {
    const here = sections.findLast(({ floor }) => floor <= row.floor + interval / 2);
    if (!here || here.index === last) continue;
    row.section = here.name;
    last = here.index;
  }
}

/** A pick-up of about one count before its row still opens it, in counts. */
const PICK_UP = 1.05;

/** The nearest word from a pick-up before the row to the end of its first bar. */
function putWords(plan: Plan, score: FloorScore, rows: readonly Placed[]): void {
  const { toFloor } = compileEdit(playedEdit(plan), { duration: songDuration(plan) });
  const heard = plan.cues.flatMap((cue) => {
    const floor = toFloor(cue.at);
    return floor === null ? [] : [{ cue, floor }];
  });
  const solved = solveEnding(plan, score);
  const signal = solved.ok ? solved.value.signal?.cue.id : undefined;
  for (const [i, { row }] of rows.entries()) {
    const counts =
      row.counts > 0 ? Math.min(score.countsPerBar, row.counts) - 0.5 : row.seconds / score.interval;
    const late = (floor: number) => (floor - row.floor) / score.interval;
    const [opening] = heard
      .filter(({ floor }) => (i === 0 || late(floor) >= -PICK_UP) && late(floor) < counts)
      .sort((a, b) => Math.abs(late(a.floor)) - Math.abs(late(b.floor)));
    row.word = opening?.cue.word ?? '';
    row.isSignal = opening !== undefined && opening.cue.id === signal;
  }
}

type Put = (from: number, to: number, draw: (row: PaperRow, stretch: Stretch) => void) => void;

/** Cuts a stretch of counts at the rows' ends; what goes on past the last count stays in the last row. */
const putterOf =
  (rows: readonly Placed[]): Put =>
  (from, to, draw) => {
    const counted = rows.filter(({ row }) => row.counts > 0);
    for (const [i, { row, first }] of counted.entries()) {
      const end = first + row.counts + (i === counted.length - 1 ? OVER : 0);
      if (to <= from || from >= end || to <= first) continue;
      draw(row, {
        from: Math.max(from, first) - first,
        to: Math.min(to, end) - first,
        begins: from >= first,
        finishes: to <= end,
      });
    }
  };
/** How far past the last count a pose may be kept, in counts. */
const OVER = 8;

function putMoves(plan: Plan, score: FloorScore, solved: SolvedEnding | null, put: Put): void {
  const ending = solved?.moves ?? [];
  const all: LaidMove[] = [...laidOut(plan, score).filter(({ removedByEdit }) => !removedByEdit), ...ending];
  for (const one of all) {
    const points = one === ending.at(-1);
    const end = points && one.lands !== null ? Math.max(one.at + 0.5, one.lands) : one.end;
    put(one.at, end, (row, stretch) => row.moves.push({ ...stretch, words: moveWords(one), points }));
    put(one.preparationFrom, one.at, (row, stretch) => row.preparations.push(stretch));
  }
}

function putWalk(plan: Plan, score: FloorScore, put: Put): void {
  const walk = planWalkOn(plan, score);
  if (!walk.ok) return;
  const { firstStep, comeOnAt } = walk.value;
  put(firstStep, firstStep + 1, (row, { from }) => {
    row.firstStep = from;
  });
  const from = score.counts.findLast(({ floor }) => floor <= comeOnAt)?.index ?? 0;
  put(from, firstStep, (row, stretch) => {
    row.walk = { ...stretch, words: stretch.begins ? walkOnWords(plan.walkOn) : '' };
  });
}

function putPose(plan: Plan, { landing, kept }: SolvedEnding, score: FloorScore, put: Put): void {
  const facing = plan.ending?.facing ? `, facing ${plan.ending.facing}` : '';
  const words = `closing pose ${clock(landing.floor)}, kept ${kept.seconds} s${facing}`;
  const last = score.counts.at(-1)!;
  const until =
    score.counts.find(({ floor }) => floor >= kept.until)?.index ??
    last.index + (kept.until - last.floor) / score.interval;
  put(landing.count, Math.max(landing.count + 0.25, until), (row, stretch) => {
    row.pose = { ...stretch, words: stretch.begins ? words : '' };
  });
}
