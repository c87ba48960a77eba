import type { Plan } from '@/lib/core/areas/plan.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import type { FloorCount, FloorScore } from '@/lib/core/edit/score.ts';
import { type Danced, dancedOf, sayingSeconds, shortName } from '@/lib/core/handover/danced.ts';
import type { Stretch } from '@/lib/core/handover/stretch.ts';
import type { FloorTime } from '@/lib/core/units.ts';
import { said } from '../_sheet/said.ts';
import { dancedWords, nameOf, timesWords, whenFigures } from './words.ts';

/** Something to be called ahead: a move, the first step, the closing pose. */
export interface Call {
  at: FloorTime;
  /** Count on which it begins. */
  count: number;
  /** As it is called: no longer than can be said. */
  name: string;
  /** `twice`; empty for once. */
  times: string;
  /** The word or sound on which it begins; empty where nobody named one. */
  on: string;
  /** Where leading it begins. */
  led: FloorTime;
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
  danced: Danced[];
  score: FloorScore;
}

/** A cue this near the count on which something begins is the word that it begins on, in shares of a count. */
const ON_THE_WORD = 0.75;
/** Two moments nearer than this are one, in seconds. */
const NEAR = 1e-6;

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
  const danced = dancedOf(plan, score);
  return { cues, danced, calls: callsOf(danced, score, cues), score };
}

/** The first step is called, too, also where a move begins on it; the basic after a move is not. */
function callsOf(danced: readonly Danced[], score: FloorScore, cues: readonly HeardCue[]): Call[] {
  const first = danced.find(({ kind }) => kind === 'basic' || kind === 'move');
  const call = (one: Danced, name: string, times = ''): Call => {
    const off = (cue: HeardCue) => Math.abs(cue.at - one.from);
    const near = cues.reduce<HeardCue | null>(
      (best, cue) => (best && off(best) <= off(cue) ? best : cue),
      null,
    );
    const on = near && off(near) <= ON_THE_WORD * score.interval ? near.word : '';
    return { at: one.from, count: one.first, name, times, on, led: one.led };
  };
  return danced.flatMap((one) => {
    if (one.kind === 'move') return [call(one, shortName(one.name), timesWords(one.times))];
    if (one.kind === 'pose') return [call(one, dancedWords.pose)];
    return one === first ? [call(one, dancedWords.firstStep)] : [];
  });
}

/** Bars ahead of which a call is given at the latest. */
const AHEAD_BARS = 2;
/** Seconds of quiet between a call and what it calls for. */
const QUIET = 0.2;

/**
 * Seconds of the music before a move at which its call begins: two bars, and more where it would not be over before the leading.
 * @param speed share of full speed at which the music is played: saying it takes as long however slow that is
 */
export function callAhead(call: Call, score: FloorScore, speed: number): number {
  const bars = AHEAD_BARS * score.countsPerBar * score.interval;
  return Math.max(bars, call.at - call.led + (sayingSeconds(call.name) + QUIET) * speed);
}

/** What comes next on the screen: a call, or the start of what is danced again. */
export interface Coming {
  name: string;
  times: string;
  /** "in 2 bars", "now". */
  when: string;
  on: string;
  at: FloorTime;
}

/** What stands at a moment of the music. */
export interface Moment {
  count: FloorCount | null;
  /** The number that dancers say; empty where there is no count. */
  said: string;
  section: string;
  /** The cue that was heard last and still stands, and the next one. */
  heard: string;
  next: HeardCue | null;
  /** What is being danced; null where no counts are known. */
  dancing: Danced | null;
  /** Which of its counts this is, from 0, and of how many; null where nothing is counted. */
  within: { at: number; of: number } | null;
  call: Call | null;
  /** What comes next: in a loop nothing from behind its end. */
  coming: Coming | null;
}

/** @param again what is gone round in, where there is such */
export function momentAt(
  { cues, calls, danced, score }: Following,
  at: FloorTime,
  again: Stretch | null = null,
): Moment {
  const count = score.counts.findLast((c) => c.floor <= at + NEAR) ?? null;
  // Where the counts stop for a while, none is said.
  const fresh = count !== null && at - count.floor < 2 * score.interval ? count : null;
  const dancing = danced.findLast((one) => one.from <= at + NEAR) ?? null;
  const call = calls.find((c) => c.at > at + NEAR) ?? null;
  const isCounted = fresh && dancing && (dancing.kind === 'move' || dancing.kind === 'basic');
  return {
    count: fresh,
    said: fresh ? String(said(score, fresh)) : '',
    section: score.sections.findLast((s) => s.floor <= at + NEAR)?.name ?? '',
    heard: cues.findLast((cue) => cue.at <= at + NEAR)?.word ?? '',
    next: cues.find((cue) => cue.at > at + NEAR) ?? null,
    dancing,
    within: isCounted
      ? { at: fresh.index - dancing.first, of: Math.max(1, dancing.end - dancing.first) }
      : null,
    call,
    coming: comingAt(call, cues, at, score, again),
  };
}

function comingAt(
  call: Call | null,
  cues: readonly HeardCue[],
  at: FloorTime,
  score: FloorScore,
  again: Stretch | null,
): Coming | null {
  if (again && (call === null || call.at > again.to - NEAR)) {
    const opens = cues.find((cue) => Math.abs(cue.at - again.from) <= ON_THE_WORD * score.interval);
    const when = whenFigures(again.to, at, score);
    return { name: dancedWords.again, times: nameOf(again), on: opens?.word ?? '', at: again.to, when };
  }
  if (!call) return null;
  const { name, times, on } = call;
  return { name, times, on, at: call.at, when: whenFigures(call.at, at, score) };
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
    const section = score.sections.findLast((s) => s.floor <= from + NEAR)?.name ?? '';
    // A cue may be heard a little before the bar that it opens.
    const near = score.interval / 2;
    const word = cues.find((cue) => cue.at >= from - near && cue.at < to - near)?.word ?? '';
    return { from, to, section, word };
  });
}
