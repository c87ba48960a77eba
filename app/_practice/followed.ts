import type { Plan } from '@/lib/core/areas/plan.ts';
import { solveEnding } from '@/lib/core/dance/ending.ts';
import { type LaidMove, laidOut } from '@/lib/core/dance/place.ts';
import { planWalkOn } from '@/lib/core/dance/walkOn.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import type { FloorCount, FloorPhrase, FloorScore } from '@/lib/core/edit/score.ts';
import type { FloorTime } from '@/lib/core/units.ts';
import { said } from '../_sheet/said.ts';

/** Something to be called ahead: a move, the first step, the closing pose. */
export interface Call {
  at: FloorTime;
  /** Count on which it begins. */
  count: number;
  name: string;
  /** The word or sound on which it begins; empty where nobody named one. */
  on: string;
}

/** A cue word in floor time. */
export interface HeardCue {
  at: FloorTime;
  word: string;
}

/** What to follow while the music plays, in order; made once for a plan. */
export interface Following {
  cues: HeardCue[];
  calls: Call[];
  score: FloorScore;
}

/** A cue this near the count on which something begins is the word that it begins on, in shares of a count. */
const ON_THE_WORD = 0.75;

/** A plan is replaced and never altered: the player's bar and the page above it follow the same. */
const known = new WeakMap<Plan, Following>();

export function following(plan: Plan, score: FloorScore): Following {
  const before = known.get(plan);
  if (before?.score === score) return before;
  const follow = followed(plan, score);
  known.set(plan, follow);
  return follow;
}

function followed(plan: Plan, score: FloorScore): Following {
  const duration = plan.recording?.duration ?? 0;
  const compiled = compileEdit(plan.edit ?? wholeSong, { duration });
  const cues = plan.cues
    .flatMap(({ at, word }) => {
      const floor = compiled.toFloor(at);
      return floor === null ? [] : [{ at: floor, word }];
    })
    .sort((a, b) => a.at - b.at);
  return { cues, calls: callsOf(plan, score, cues), score };
}

function callsOf(plan: Plan, score: FloorScore, cues: HeardCue[]): Call[] {
  const call = (count: number, name: string): Call[] => {
    const place = score.counts[count];
    if (!place) return [];
    const off = (cue: HeardCue) => Math.abs(cue.at - place.floor);
    const near = cues.reduce<HeardCue | null>(
      (best, cue) => (best && off(best) <= off(cue) ? best : cue),
      null,
    );
    const on = near && off(near) <= ON_THE_WORD * score.interval ? near.word : '';
    return [{ at: place.floor, count, name, on }];
  };
  const named = ({ move, times, at }: LaidMove) => call(at, timesWords(move.name, times));
  const ending = solveEnding(plan, score);
  const walkOn = score.counts.length > 0 ? planWalkOn(plan, score) : null;
  return [
    ...(walkOn?.ok ? call(walkOn.value.firstStep, 'first step') : []),
    ...laidOut(plan, score)
      .filter((laid) => !laid.removedByEdit)
      .flatMap(named),
    ...(ending.ok ? ending.value.moves.flatMap(named) : []),
    ...(ending.ok ? call(ending.value.landing.count, 'closing pose') : []),
  ].sort((a, b) => a.at - b.at || a.count - b.count);
}

const timesWords = (name: string, times: number): string =>
  times === 1 ? name : times === 2 ? `${name}, twice` : `${name}, ${times} times`;

/** What stands at a moment of the music. */
export interface Moment {
  count: FloorCount | null;
  /** The number that dancers say; empty where there is no count. */
  said: string;
  phrase: FloorPhrase | null;
  section: string;
  /** The cue that was heard last and still stands, and the next one. */
  now: string;
  next: HeardCue | null;
  /** What is being danced now: the last call. */
  dancing: string;
  call: Call | null;
  /** "in two bars", "now". */
  callWhen: string;
}

export function momentAt({ cues, calls, score }: Following, at: FloorTime): Moment {
  const count = score.counts.findLast((c) => c.floor <= at + 1e-6) ?? null;
  // Where the counts stop for a while, none is said.
  const fresh = count !== null && at - count.floor < 2 * score.interval ? count : null;
  const phrase = fresh ? (score.phrases[fresh.phrase] ?? null) : null;
  const section = score.sections.findLast((s) => s.floor <= at + 1e-6);
  const call = calls.find((c) => c.at > at + 1e-6) ?? null;
  return {
    count: fresh,
    said: fresh ? String(said(score, fresh)) : '',
    phrase,
    section: section?.name ?? '',
    now: cues.findLast((cue) => cue.at <= at + 1e-6)?.word ?? '',
    next: cues.find((cue) => cue.at > at + 1e-6) ?? null,
    dancing: calls.findLast((c) => c.at <= at + 1e-6)?.name ?? '',
    call,
    callWhen: call ? whenWords(call, at, score) : '',
  };
}

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'];
const numberWord = (n: number): string => NUMBERS[n] ?? String(n);
const many = (n: number, what: string): string => `in ${numberWord(n)} ${what}${n === 1 ? '' : 's'}`;

/** How far ahead a call lies, as somebody would say it across a room: bars while it is far, counts in the last bar. */
export function whenWords(call: Call, at: FloorTime, score: FloorScore): string {
  const left = Math.round((call.at - at) / score.interval);
  if (left <= 0) return 'now';
  const bars = Math.round(left / score.countsPerBar);
  if (left < score.countsPerBar || bars === 0) return many(left, 'count');
  return many(bars, 'bar');
}

/** The stretch of the phrase, or of the section, that a moment lies in. */
export function stretchAt(
  score: FloorScore,
  at: FloorTime,
  of: 'phrase' | 'section',
): { name: string; from: FloorTime; to: FloorTime } | null {
  const section = score.sections.findLast((s) => s.floor <= at + 1e-6);
  if (of === 'section') {
    return section ? { name: section.name, from: section.floor, to: section.end } : null;
  }
  const phrase = score.phrases.findLast((p) => p.floor <= at + 1e-6) ?? score.phrases[0];
  if (!phrase) return null;
  const own = score.phrases.filter((p) => p.section === phrase.section);
  const name = score.sections[phrase.section]?.name ?? '';
  const which = own.length > 1 ? `, phrase ${own.indexOf(phrase) + 1}` : '';
  return { name: `${name}${which}`, from: phrase.floor, to: phrase.end };
}

/** A bar as danced, to choose by. */
interface BarStretch {
  from: FloorTime;
  to: FloorTime;
  /** Name of the section that it lies in; empty before the first. */
  section: string;
  /** The cue that is heard in it first; empty where none is. */
  word: string;
}

/** The bars of the floor score, in order; the last one lasts as long as the music. */
export function stretchesOf(score: FloorScore, cues: readonly HeardCue[]): BarStretch[] {
  const starts = score.counts.filter((count) => count.inBar === 0).map((count) => count.floor);
  return starts.map((from, i) => {
    const to = starts[i + 1] ?? score.length;
    const section = score.sections.findLast((s) => s.floor <= from + 1e-6)?.name ?? '';
    // A cue may be heard a little before the bar that it opens.
    const near = score.interval / 2;
    const word = cues.find((cue) => cue.at >= from - near && cue.at < to - near)?.word ?? '';
    return { from, to, section, word };
  });
}
