import type { Plan } from '../areas/plan.ts';
import { basicOf, wholeDance } from '../dance/basics.ts';
import { solveEnding } from '../dance/ending.ts';
import type { LaidMove } from '../dance/place.ts';
import { planWalkOn, usualWalkOn } from '../dance/walkOn.ts';
import type { FloorScore } from '../edit/score.ts';
import { type Count, count, type FloorTime, floorTime } from '../units.ts';

/** What the couple do for a while: `from` and `first` are in it, `to` and `end` are not. */
export interface Danced {
  kind: 'wait' | 'walk on' | 'basic' | 'move' | 'pose' | 'over';
  /** Of the move or the basic, as the board has it; empty for the rest. */
  name: string;
  /** Danced so many times in a row. */
  times: number;
  from: FloorTime;
  to: FloorTime;
  first: Count;
  end: Count;
  /** Where leading it begins, in the basic before it. */
  led: FloorTime;
}

/** What begins at a moment, before it is known how long it lasts. */
type Begun = Omit<Danced, 'from' | 'to' | 'led'> & { preparation: Count };

/**
 * The whole dance from the first sound to the last, end to end: waiting off the floor, walking on, then moves with the basic
 * between them, the closing pose, and what is left. Where moves overlap, the later one cuts the earlier. Empty without counts.
 */
export function dancedOf(plan: Plan, score: FloorScore): Danced[] {
  const walk = score.counts.length > 0 ? planWalkOn(plan, score) : null;
  if (!walk?.ok) return [];
  const { firstStep, firstStepAt, comeOnAt } = walk.value;
  const at = (place: number): FloorTime => score.counts[place]?.floor ?? score.length;
  const solved = solveEnding(plan, score);
  const ending = solved.ok ? solved.value : null;
  const landing = ending?.landing.count ?? null;
  const moves = wholeDance(plan, score)
    .filter((laid) => landing === null || laid.at < landing)
    .map(moveOf);
  const basic = basicOf(plan)?.name ?? '';
  const filled: Begun[] = [];
  let until: number = firstStep;
  for (const [i, move] of moves.entries()) {
    if (move.first > until) filled.push(basicFrom(basic, until, move.first));
    const next = moves[i + 1]?.first ?? Number.POSITIVE_INFINITY;
    const end = Math.min(move.end, next, landing ?? score.counts.length);
    if (end > move.first) filled.push({ ...move, end: count(end) });
    until = Math.max(until, end);
  }
  const last = landing ?? score.counts.length;
  if (last > until) filled.push(basicFrom(basic, until, last));
  const danced = filled.map(({ preparation, ...one }) => ({
    ...one,
    from: at(one.first),
    to: at(one.end),
    led: at(Math.max(0, preparation)),
  }));
  return [
    ...cameOn(plan, comeOnAt, firstStepAt, firstStep),
    ...danced,
    ...(ending ? closing(score, ending.kept.until, ending.landing.floor, ending.landing.count) : []),
  ].filter(({ from, to }) => to > from);
}

const moveOf = ({ move, times, at, end, preparationFrom }: LaidMove): Begun => ({
  kind: 'move',
  name: move.name,
  times,
  first: at,
  end,
  preparation: preparationFrom,
});

const basicFrom = (name: string, first: number, end: number): Begun => ({
  kind: 'basic',
  name,
  times: 1,
  first: count(first),
  end: count(end),
  preparation: count(first),
});

const nothing = { name: '', times: 1 } as const;

function cameOn(plan: Plan, comeOnAt: FloorTime, firstStepAt: FloorTime, firstStep: Count): Danced[] {
  const inPlace = (plan.walkOn ?? usualWalkOn).how === 'in place';
  const part = (kind: 'wait' | 'walk on', from: FloorTime, to: FloorTime): Danced => {
    const places = { first: firstStep, end: firstStep };
    return { ...nothing, ...places, kind, from, to, led: from };
  };
  const on = inPlace ? firstStepAt : comeOnAt;
  return [part('wait', floorTime(0), on), part('walk on', on, firstStepAt)];
}

function closing(score: FloorScore, kept: FloorTime, lands: FloorTime, at: Count): Danced[] {
  const until = floorTime(Math.min(kept, score.length));
  const places = { first: at, end: count(score.counts.length) };
  return [
    { ...nothing, ...places, kind: 'pose', from: lands, to: until, led: lands },
    { ...nothing, ...places, kind: 'over', from: until, to: score.length, led: until },
  ];
}

/** Letters of a name that can be said while a couple listens for it. */
const LONGEST = 32;

/** A name as it is called across a room: without what stands in brackets or after a comma, and no longer than can be said. */
export function shortName(name: string): string {
  const [first = ''] = name.split(/[(,;:]/);
  const words = (first.trim() || name.trim()).split(/\s+/);
  const kept: string[] = [];
  for (const word of words) {
    if (kept.length > 0 && [...kept, word].join(' ').length > LONGEST) break;
    kept.push(word);
  }
  return kept.join(' ');
}

/** Letters that two lines of a phone hold where they are to be read from across a room. */
const FROM_AFAR = 16;
/** Words after which a name tells how it goes on: what stands before is what dancers call it. */
const GOING_ON = new Set(
  'a and at behind between by for from in into of on onto over the through to under with'.split(' '),
);

/** A name as it is read across a room: the words to call it by, as few as tell it from most others, and the rest of them. */
export function readAcross(name: string): { call: string; rest: string } {
  const words = shortName(name).split(' ');
  const upTo = (end: number) => words.slice(0, end).join(' ');
  let end = words.length;
  if (upTo(end).length > FROM_AFAR) {
    const goesOn = words.findIndex((word, i) => i > 0 && GOING_ON.has(word.toLowerCase()));
    if (goesOn > 0) end = goesOn;
    while (end > 1 && upTo(end).length > FROM_AFAR) end -= 1;
  }
  return { call: upTo(end), rest: words.slice(end).join(' ') };
}

/** Letters a second of clear speech, with a breath before it: some 150 words a minute of six letters; common practice, no source. */
const LETTERS_A_SECOND = 12;
const BREATH = 0.35;

/** Seconds that it takes to say these words. */
export const sayingSeconds = (words: string): number => BREATH + words.length / LETTERS_A_SECOND;
