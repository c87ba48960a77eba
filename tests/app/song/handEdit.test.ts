import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barPlaces,
  editWords,
  firstFade,
  hearings,
  lengthWords,
  withCut,
  withEnd,
  withFadeLength,
  withoutCut,
  withStart,
} from '../../../app/_song/handEdit.ts';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import { type Edit, edit as editSchema, wholeSong } from '../../../lib/core/edit/edit.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { barAt, fadeAt, micros, planOf } from '../../kit/board.ts';

const plan = planOf();
const { duration } = plan.recording!;
const places = barPlaces(plan.grid!, plan.sections);
const place = (section: string, bar: number) =>
  places.find((p) => p.section === section && p.bar === bar)!.at;
const value = (result: ReturnType<typeof withCut>): Edit => {
  if (!result.ok) throw new Error(result.problem.sentence);
  return result.value;
};

describe('an edit by hand', () => {
  it('names each bar by its section', () => {
    expect(place('verse 2', 1)).toBeCloseTo(barAt(48), 5);
    expect(place('bridge', 3)).toBeCloseTo(barAt(90), 5);
  });

  it('leaves out what is asked for, and the length is shorter by just that', () => {
    const edit = value(withCut(wholeSong, place('verse 2', 1), place('bridge', 1), duration));
    expect(compileEdit(edit, { duration }).length).toBeCloseTo(duration - (barAt(88) - barAt(48)), 5);
    expect(edit.cuts[0]!.beatErrorMs).toBeUndefined();
    expect(withoutCut(edit, 0)).toEqual(wholeSong);
  });

  it('parts left out that touch become one', () => {
    const first = value(withCut(wholeSong, micros(60), micros(80), duration));
    const both = value(withCut(first, micros(70), micros(100), duration));
    expect(both.cuts).toHaveLength(1);
    expect(both.cuts[0]!.to - both.cuts[0]!.from).toBeCloseTo(40, 5);
  });

  it('says why an edit cannot be', () => {
    const backwards = withCut(wholeSong, micros(80), micros(60), duration);
    expect(backwards.ok ? '' : backwards.problem.sentence).toContain('end after it begins');
    const nothing = withStart(wholeSong, duration - 1, duration);
    expect(nothing.ok ? '' : nothing.problem.code).toBe('nothing left');
    const late = withEnd(wholeSong, fadeAt(0, 0.5).end, duration);
    expect(late.ok).toBe(false);
  });

  it('refuses a fade that is no fade, and says how long one may last', () => {
    const faded = fadeAt(barAt(100), 8);
    expect(value(withFadeLength(faded, '6,5', duration)).end).toMatchObject({ length: 6.5 });
    for (const typed of ['-3', '0', '', '61', 'long']) {
      const refused = withFadeLength(faded, typed, duration);
      expect(refused.ok ? typed : refused.problem.sentence).toBe(
        'A fade lasts from 0.5 to 60 seconds: please give a length between them.',
      );
    }
  });

  it('is valid by the schema, whatever is left out in which order', () => {
    const time = fc.integer({ min: 0, max: Math.floor(duration) }).map((s) => micros(s));
    fc.assert(
      fc.property(fc.array(fc.tuple(time, time), { maxLength: 8 }), time, (stretches, start) => {
        let edit = wholeSong;
        for (const [from, to] of stretches) {
          const next = withCut(edit, from, to, duration);
          if (next.ok) edit = next.value;
        }
        const started = withStart(edit, start, duration);
        if (started.ok) edit = started.value;
        expect(editSchema.safeParse(edit).success).toBe(true);
        expect(compileEdit(edit, { duration }).length).toBeGreaterThan(0);
      }),
    );
  });

  it('a fade begins at the bar line that brings it nearest the length wanted', () => {
    const edit = value(withCut(wholeSong, place('verse 2', 1), place('bridge', 1), duration));
    const faded = value(withEnd(edit, firstFade(edit, duration, 131, places), duration));
    expect(Math.abs(compileEdit(faded, { duration }).length - 131)).toBeLessThanOrEqual(1.01);
    expect(places.some(({ at }) => faded.end.kind === 'fade' && at === faded.end.from)).toBe(true);
  });

  it('reads as a sentence with sections and bars', () => {
    const edit = value(withCut(fadeAt(barAt(100), 8), place('verse 2', 1), place('bridge', 1), duration));
    const words = editWords(edit, duration, places, 60 / 90);
    expect(words).toContain('from the beginning of verse 2 to the beginning of the bridge');
    expect(words).toContain('fades over 8 s from chorus 3, bar 5');
    expect(editWords(wholeSong, duration, places, 60 / 90)).toBe('The whole song, 3:48.');
  });

  it('says how its lengths differ', () => {
    const ends = duration - 3;
    expect(lengthWords(wholeSong, duration, ends)).toBe(
      'Music until 3:45, then quiet. As a file 3:49, with a silent second.',
    );
    expect(lengthWords(fadeAt(barAt(100), 8), duration, ends)).toBe('As a file 3:29, with a silent second.');
  });

  it('is heard from four bars before each join or fade to four bars after a join', () => {
    const edit = value(withCut(fadeAt(barAt(100), 8), place('verse 2', 1), place('bridge', 1), duration));
    const bar = 2;
    const heard = hearings(edit, duration, bar);
    expect(heard.map(({ words }) => words)).toEqual(['the join', 'the fade']);
    expect(heard[0]!.from).toBeCloseTo(barAt(48) - 8, 1);
    expect(heard[0]!.to).toBeCloseTo(barAt(48) + 8, 1);
    expect(heard[1]!.to).toBeCloseTo(compileEdit(edit, { duration }).length, 6);
    expect(heard[1]!.to - heard[1]!.from).toBeCloseTo(8 + 8, 5);
    expect(hearings({ ...wholeSong, start: recordTime(10) }, duration, bar)).toEqual([]);
  });
});
