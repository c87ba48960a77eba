import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Looking, tapped, withOwn } from '../../../app/_handover/seen.ts';

const same = (what: string) => what;

describe('a tap', () => {
  test('gives the word for what was looked at', () =>
    expect(tapped({ seen: 'a', before: null }, 'a', same).gives).toBe(true));
  test('gives nothing for what came up since, and the next one does', () => {
    const first = tapped({ seen: 'a', before: null }, 'b', same);
    expect(first).toEqual({ gives: false, looking: { seen: 'b', before: 'a' } });
    expect(tapped(first.looking, 'b', same).gives).toBe(true);
    const again = tapped(first.looking, 'c', same);
    expect(again).toEqual({ gives: false, looking: { seen: 'c', before: 'a' } });
  });
  test('gives it when all is as at first again', () =>
    expect(tapped({ seen: 'b', before: 'a' }, 'a', same).gives).toBe(true));

  test('never gives it for what no tap before has shown, whatever comes between', () => {
    const steps = fc.array(fc.constantFrom('a', 'b', 'c', 'tap'), { maxLength: 20 });
    fc.assert(
      fc.property(steps, (all) => {
        let now = 'a';
        let looking: Looking<string> = { seen: 'a', before: null };
        const shown = new Set(['a']);
        for (const step of all) {
          if (step !== 'tap') {
            now = step;
            continue;
          }
          const tap = tapped(looking, now, same);
          if (tap.gives) expect(shown.has(now)).toBe(true);
          shown.add(now);
          looking = tap.looking;
        }
      }),
      { seed: 5, numRuns: 500 },
    );
  });
});

describe('what somebody changed by their own hand', () => {
  const seen = { place: 'Mill', starts: '19:30', music: '3:00' };
  test('they know without looking', () =>
    expect(withOwn(seen, seen, { ...seen, starts: '20:00', notes: 'quiet' })).toEqual({
      place: 'Mill',
      starts: '20:00',
      music: '3:00',
      notes: 'quiet',
    }));
  test('and what they took away', () =>
    expect(withOwn(seen, seen, { place: 'Mill', starts: '19:30' })).toEqual({
      place: 'Mill',
      starts: '19:30',
    }));
  test('but not what others changed before it', () => {
    const others = { ...seen, music: '3:20' };
    expect(withOwn(seen, others, { ...others, starts: '20:00' })).toEqual({ ...seen, starts: '20:00' });
  });
});
