import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { areas } from '../../../lib/core/areas/board.ts';
import { changeArea, changePlan } from '../../../lib/core/areas/change.ts';
import { checkChanges } from '../../../lib/core/areas/checkChanges.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import { type FieldFacts, facts, fieldsWith } from '../../../lib/core/areas/field.ts';
import { planShape } from '../../../lib/core/areas/plan.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { danceInto, showInto, songInto } from '../../../lib/core/areas/shift.ts';
import { solveEnding } from '../../../lib/core/dance/ending.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { SAID } from '../../../lib/core/song/evidence.ts';
import { noPlace, type Places } from '../../../lib/core/song/places.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';
import {
  barAt,
  cueAt,
  cutOut,
  endingOn,
  fadeAt,
  libraryMove,
  micros,
  placed,
  planOf,
} from '../../kit/board.ts';

const spec = { lead: 4 };
const walkOn = {
  ...usualWalkOn,
  firstStep: micros(barAt(8, spec)),
  signal: 'Kezia nods',
  lastWords: 'Welcome',
};
const plan = planOf(spec, {
  moves: ['waltz-box', 'waltz-underarm', 'lean-three'].map(libraryMove),
  cues: [cueAt('c', barAt(24, spec), 'lantern'), cueAt('e', barAt(104, spec), 'tide')],
  placed: [placed('p', 'waltz-underarm', barAt(32, spec))],
  ending: endingOn(barAt(108, spec), ['lean-three']),
  walkOn,
  corrections: [{ id: 'k', ...SAID, kind: 'bars', times: [micros(barAt(20, spec))] }],
  edit: cutOut(barAt(48, spec), barAt(64, spec), { start: micros(1.5) }),
});

/** The same music at another speed, `later` seconds later. */
const lineTo = (ratio: number, later: number): Places => ({
  ratio,
  whole: true,
  of: (at) => {
    const there = wholeMicros(at * ratio + later);
    return there < 0 ? null : recordTime(there);
  },
});
/** Only what lies between two seconds, and so many later. */
const part = (from: number, to: number, later: number): Places => ({
  ratio: 1,
  whole: false,
  of: (at) => (at < from || at > to ? null : micros(at + later)),
});

/** The dance as it is danced, in floor time. */
const danced = (of: typeof plan) => {
  const score = boardScore(of)!;
  const ending = solveEnding(of, score);
  return {
    counts: score.counts.map(({ floor }) => floor),
    phrases: score.phrases.map(({ floor }) => floor),
    placed: laidOut(of, score).map(({ at }) => at),
    landing: ending.ok ? ending.value.landing.floor : null,
    length: score.length,
  };
};

describe('a recording that shows all of the same music', () => {
  const into = (places: Places) => {
    const recording = {
      ...plan.recording!,
      duration: wholeMicros(places.of(recordTime(plan.recording!.duration))!),
    };
    const heard = { ...plan.heard!, lastSound: wholeMicros(places.of(recordTime(plan.heard!.lastSound))!) };
    const changes = [...songInto(plan, places)!, ...danceInto(plan, places)];
    expect(checkChanges(planShape, plan, changes)).toEqual({ ok: true, value: true });
    return { ...changePlan(plan, changes), recording, heard };
  };

  test('later or earlier, the dance stays as it is on the floor', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1_400_000, max: 9_000_000 }), (shift) => {
        const [before, after] = [danced(plan), danced(into(lineTo(1, shift / 1e6)))];
        expect(after.placed).toEqual(before.placed);
        expect(after.counts).toHaveLength(before.counts.length);
        for (const part of ['counts', 'phrases'] as const)
          for (const [i, floor] of before[part].entries()) expect(after[part][i]).toBeCloseTo(floor, 5);
        expect(after.landing).toBeCloseTo(before.landing!, 5);
      }),
      { numRuns: 60 },
    );
  });

  test('at another speed, every count is as much later on the floor, and the dance is the same counts', () => {
    const seconds = fc.integer({ min: 0, max: 5_000_000 });
    fc.assert(
      fc.property(fc.double({ min: 0.9, max: 1.1, noNaN: true }), seconds, (ratio, shift) => {
        const [before, after] = [danced(plan), danced(into(lineTo(ratio, shift / 1e6)))];
        expect(after.placed).toEqual(before.placed);
        expect(after.counts).toHaveLength(before.counts.length);
        for (const [i, floor] of before.counts.entries())
          expect(Math.abs(after.counts[i]! - floor * ratio)).toBeLessThan(1e-4);
        expect(Math.abs(after.landing! - before.landing! * ratio)).toBeLessThan(1e-4);
        expect(Math.abs(after.length - before.length * ratio)).toBeLessThan(1e-4);
      }),
      { numRuns: 60 },
    );
  });

  test('at another speed, a fade takes as long as the same music, and the error of a join is not known', () => {
    const slower = lineTo(1.05, 0);
    const edited = (edit: typeof plan.edit) => changePlan(plan, songInto({ ...plan, edit }, slower)!).edit!;
    expect(edited(fadeAt(200, 8)).end).toMatchObject({ from: 210, length: 8.4 });
    const cut = { ...plan.edit!.cuts[0]!, beatErrorMs: 4 };
    expect(edited({ ...plan.edit!, cuts: [cut] }).cuts[0]).not.toHaveProperty('beatErrorMs');
    const later = changePlan(
      plan,
      songInto({ ...plan, edit: { ...plan.edit!, cuts: [cut] } }, lineTo(1, 2))!,
    );
    expect(later.edit!.cuts[0]!.beatErrorMs).toBe(4);
  });

  test('words that name a time go where that is another', () => {
    const timed = {
      ...plan,
      walkOn: { ...walkOn, signal: 'Kezia nods at 0:42', lastWords: 'at 20:45, “now”' },
    };
    const wordsIn = (places: Places) => {
      const { signal, lastWords } = changePlan(timed, danceInto(timed, places)).walkOn!;
      return [signal, lastWords];
    };
    expect(wordsIn(lineTo(1, 0.01))).toEqual(['Kezia nods at 0:42', 'at 20:45, “now”']);
    expect(wordsIn(lineTo(1, 3))).toEqual(['', '']);
  });

  test('what lacks one beat of it makes song and edit anew', () => {
    expect(songInto(plan, lineTo(1, -barAt(0, spec) - 0.5))).toBeNull();
  });
});

describe('a recording that shows a part of the music', () => {
  const middle = part(barAt(20, spec), barAt(40, spec), 7);

  test('takes along what has a place in it, and nothing else', () => {
    expect(songInto(plan, middle)).toBeNull();
    const after = changePlan(plan, danceInto(plan, middle));
    expect(after.cues).toEqual([{ ...plan.cues[0], at: micros(barAt(24, spec) + 7) }]);
    expect(after.placed).toEqual([{ ...plan.placed[0], at: micros(barAt(32, spec) + 7) }]);
    expect(after.walkOn).toEqual({ ...walkOn, firstStep: null });
    expect(after.ending).toBeNull();
    expect(after.moves).toEqual(plan.moves);
  });

  test('of another song nothing that hangs on a moment stays', () => {
    const after = changePlan(plan, danceInto(plan, noPlace));
    expect([after.cues, after.placed, after.ending]).toEqual([[], [], null]);
    expect(after.walkOn).toEqual({ ...walkOn, firstStep: null });
  });

  test('what others do goes and comes along in the same way', () => {
    const show = {
      ...emptyBoard().show!,
      moments: [
        { id: 'a', at: micros(barAt(30, spec)), who: 'lights', what: 'warm', recording: 'a'.repeat(64) },
        { id: 'o', at: micros(barAt(31, spec)), who: 'haze', what: 'on' },
        { id: 'b', at: micros(barAt(90, spec)), who: 'MC', what: 'silent' },
      ],
    };
    const after = changeArea<typeof areas.show>(show, showInto(show, middle, 'b'.repeat(64)));
    expect(after.moments).toEqual([
      { ...show.moments[0], at: micros(barAt(30, spec) + 7), recording: 'b'.repeat(64) },
      { ...show.moments[1], at: micros(barAt(31, spec) + 7) },
    ]);
  });

  test('wherever a moment is, it is at the same music or gone', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 200_000_000 }), { maxLength: 12 }),
        fc.integer({ min: 0, max: 100 }),
        fc.integer({ min: 0, max: 100 }),
        fc.integer({ min: -40, max: 40 }),
        (moments, from, length, later) => {
          const places = part(Math.max(from, -later), from + length, later);
          const cues = moments.map((at, i) => cueAt(`c${i}`, at / 1e6, 'la'));
          const before = { ...plan, cues };
          const after = changePlan(before, danceInto(before, places));
          expect(new Set(after.cues)).toEqual(
            new Set(
              cues.flatMap((cue) => {
                const at = places.of(cue.at);
                return at === null ? [] : [{ ...cue, at }];
              }),
            ),
          );
        },
      ),
    );
  });
});

test('every field that holds a moment of the recording says how it moves, and what is heard in it that it is made anew', () => {
  const moments = ['at', 'start', 'from', 'beats', 'firstStep', 'times'];
  const holdsOne = (value: unknown): boolean =>
    typeof value === 'object' &&
    value !== null &&
    Object.entries(value).some(
      ([key, one]) => (moments.includes(key) && typeof one !== 'string') || holdsOne(one),
    );
  const { registers, collections } = planShape;
  const fields: [string, { [facts]: FieldFacts }][] = Object.entries({ ...registers, ...collections });
  const holding = fields.map(([name]) => name).filter((name) => holdsOne(plan[name as keyof typeof plan]));
  const moving = fields.filter(([, { [facts]: about }]) => about.moved).map(([name]) => name);
  // What is known of the recording itself is replaced with it.
  expect(holding.filter((name) => name !== 'recording' && name !== 'heard')).toEqual(moving);
  expect(fieldsWith(registers, { anew: true })).toEqual(['grid', 'phraseBars', 'edit']);
  expect(fieldsWith(collections, { anew: true })).toEqual(['sections', 'corrections']);
});
