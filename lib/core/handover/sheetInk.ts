import { basicStretches } from '../dance/basics.ts';
import { type SolvedEnding, solveEnding } from '../dance/ending.ts';
import type { WalkOn } from '../dance/move.ts';
import { type LaidMove, laidOut } from '../dance/place.ts';
import type { DancePlan } from '../dance/plan.ts';
import { planWalkOn, usualWalkOn } from '../dance/walkOn.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Cue } from '../song/section.ts';
import { clock } from '../units.ts';
import { moveWords } from './moveWords.ts';
import { cuesInRow, heardCues } from './openingCue.ts';
import { countAtTime, type Segment, type SheetRow, segmentsOf } from './sheetRows.ts';

/** A piece of a move in one row, from count to count of the floor score. */
export interface Ribbon extends Omit<Segment, 'row'> {
  id: string;
  part: LaidMove['part'];
  /** "open turn, twice" */
  label: string;
  /** It runs over its phrase, lies in another move, or the edit left its place out: drawn as an outline. */
  outline: boolean;
  /** It begins while another is still danced: drawn one lane higher. */
  raised: boolean;
  /** Ends in the closing pose. */
  points: boolean;
}

/** A piece of a preparation; shares of its full width at both ends. */
export interface Taper {
  from: number;
  to: number;
  fromShare: number;
  toShare: number;
}

export interface Stretch {
  from: number;
  to: number;
}

/** All that is drawn in one row. Plain data, so that an unchanged row is not drawn anew. */
export interface RowInk {
  ribbons: Ribbon[];
  tapers: Taper[];
  basics: Stretch[];
  walk: Stretch | null;
  walkWords: { at: number; words: string } | null;
  firstStep: number | null;
  landing: { at: number; words: string } | null;
  hold: Stretch | null;
  seams: { at: number; clean: boolean }[];
  fade: Stretch | null;
  /** The word that opens the row, and those heard inside of it. */
  cue: Cue | null;
  words: { id: string; at: number; word: string }[];
  /** The row's word is the couple's signal for the ending. */
  signal: boolean;
}

/** How far past the last count a hold line may go, in counts. */
const OVER = 8;

/** What each row shows of the dance, in the order of the rows. */
export function inkOf(plan: DancePlan, score: FloorScore, rows: readonly SheetRow[]): RowInk[] {
  const ending = solveEnding(plan, score);
  const solved = ending.ok ? ending.value : null;
  const cues = heardCues(plan, score);
  const inks = rows.map((row) => ({ ...blankInk(), ...cuesInRow(cues, score, row) }));
  const put = (from: number, to: number, draw: (ink: RowInk, segment: Segment) => void, over = 0) => {
    for (const segment of segmentsOf(rows, from, to, over)) draw(inks[segment.row]!, segment);
  };
  for (const { from, counts } of basicStretches(plan, score)) {
    put(from, from + counts, (ink, segment) => ink.basics.push({ from: segment.from, to: segment.to }));
  }
  const laid = laidOut(plan, score);
  drawMoves(laid, solved, score, put);
  drawWalk(plan, score, put);
  if (solved) drawLanding(plan, solved, score, put);
  for (const { next, clean } of score.seams) {
    put(next, next + 1, (ink) => ink.seams.push({ at: next, clean }));
  }
  if (score.fade) {
    const end = score.counts.length;
    put(Math.max(0, countAtTime(score, score.fade.from)), end, (ink, { from, to }) => {
      ink.fade = { from, to };
    });
  }
  const signal = solved?.signal?.cue.id;
  for (const ink of inks) ink.signal = signal !== undefined && ink.cue?.id === signal;
  return inks;
}

type Put = (from: number, to: number, draw: (ink: RowInk, segment: Segment) => void, over?: number) => void;

const blankInk = (): RowInk => ({
  ribbons: [],
  tapers: [],
  basics: [],
  walk: null,
  walkWords: null,
  firstStep: null,
  landing: null,
  hold: null,
  seams: [],
  fade: null,
  cue: null,
  words: [],
  signal: false,
});

/** A move as its ribbon says it: "underarm turn, twice". */
export const ribbonLabel = (laid: LaidMove): string =>
  `${moveWords(laid)}${laid.removedByEdit ? ' (its place is left out)' : ''}`;

function drawMoves(laid: LaidMove[], solved: SolvedEnding | null, score: FloorScore, put: Put): void {
  const ending = solved?.moves ?? [];
  const all = [...laid, ...ending];
  for (const one of all) {
    const others = all.filter((other) => other !== one && other.at < one.end && other.end > one.at);
    const outline = one.removedByEdit || others.length > 0 || runsOver(one, score);
    const raised = others.some((other) => other.at < one.at || (other.at === one.at && other.id < one.id));
    const lastOfEnding = one === ending.at(-1);
    const end = lastOfEnding && one.lands !== null ? Math.max(one.at + 0.5, one.lands) : one.end;
    const label = ribbonLabel(one);
    put(one.at, end, (ink, { row: _, ...segment }) =>
      ink.ribbons.push({
        ...segment,
        id: one.id,
        part: one.part,
        label,
        outline,
        raised,
        points: lastOfEnding,
      }),
    );
    const length = one.at - one.preparationFrom;
    put(one.preparationFrom, one.at, (ink, { from, to }) =>
      ink.tapers.push({
        from,
        to,
        fromShare: (from - one.preparationFrom) / length,
        toShare: (to - one.preparationFrom) / length,
      }),
    );
  }
}

/** A placed move that is not over when its phrase is. The ending is solved for its target and may cross. */
function runsOver(one: LaidMove, score: FloorScore): boolean {
  const phrase = score.phrases[score.counts[one.at]?.phrase ?? -1];
  return one.part === 'placed' && phrase !== undefined && one.end > phrase.first + phrase.counts;
}

/** What the couple do before the first step, in a few words. */
export function walkWords(walk: WalkOn): string {
  const from = walk.from ? ` from ${walk.from}` : '';
  if (walk.how === 'in place') return 'in place, take hold';
  if (walk.how === 'from the entrance') return `straight from ${walk.from || 'the entrance'}, take hold`;
  return `walk on${from}, take hold`;
}

function drawWalk(plan: DancePlan, score: FloorScore, put: Put): void {
  const walk = planWalkOn(plan, score);
  if (!walk.ok) return;
  const { firstStep, comeOnAt } = walk.value;
  put(firstStep, firstStep + 1, (ink) => {
    ink.firstStep = firstStep;
  });
  const from = Math.max(0, Math.floor(countAtTime(score, comeOnAt) + 1e-6));
  const words = walkWords(plan.walkOn ?? usualWalkOn);
  put(from, firstStep, (ink, segment) => {
    ink.walk = { from: segment.from, to: segment.to };
    if (segment.begins) ink.walkWords = { at: segment.from, words };
  });
}

function drawLanding(plan: DancePlan, solved: SolvedEnding, score: FloorScore, put: Put): void {
  const { landing, kept } = solved;
  const facing = plan.ending?.facing ? `, facing ${plan.ending.facing}` : '';
  const words = `closing pose ${clock(landing.floor)}, kept ${kept.seconds} s${facing}`;
  const until = Math.max(landing.count + 0.25, countAtTime(score, kept.until));
  put(
    landing.count,
    until,
    (ink, { from, to, begins }) => {
      ink.hold = { from, to };
      if (begins) ink.landing = { at: landing.count, words };
    },
    OVER,
  );
}
