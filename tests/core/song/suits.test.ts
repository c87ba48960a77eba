import { describe, expect, it } from 'vitest';
import { suits } from '../../../lib/core/song/suits.ts';

const names = (metre: { beats: 2 | 3 | 4; subdivision: 2 | 3 }, tempo: number) =>
  suits(metre, tempo).map((s) => s.dance);

/**
 * Bars a minute: international by the competition rules of the world federation, as a national society's extract gives them;
 * American by social and syllabus lists, read second-hand.
 */
const PUBLISHED = [
  { dance: 'waltz', beats: 3, international: [28, 30], american: [28, 32] },
  { dance: 'viennese waltz', beats: 3, international: [58, 60], american: [53, 58] },
  // Written in two or in four; the bars are of four.
  { dance: 'tango', beats: 4, international: [31, 33], american: [30, 32] },
  { dance: 'foxtrot', beats: 4, international: [28, 30], american: [30, 34] },
  { dance: 'quickstep', beats: 4, international: [50, 52], american: undefined },
  { dance: 'rumba', beats: 4, international: [25, 27], american: [30, 36] },
  { dance: 'cha-cha', beats: 4, international: [30, 32], american: [28, 30] },
  { dance: 'samba', beats: 2, international: [50, 52], american: [52, 56] },
  { dance: 'paso doble', beats: 2, international: [60, 62], american: [58, 60] },
  { dance: 'swing', beats: 4, international: [42, 44], american: [34, 40] },
  { dance: 'bolero', beats: 4, international: undefined, american: [24, 26] },
  { dance: 'mambo', beats: 4, international: undefined, american: [47, 51] },
  { dance: 'west coast swing', beats: 4, international: undefined, american: [28, 32] },
  { dance: 'hustle', beats: 4, international: undefined, american: [28, 30] },
  { dance: 'nightclub two step', beats: 4, international: undefined, american: [16, 22] },
] as const;
const CASES = PUBLISHED.flatMap(({ dance, beats, international, american }) =>
  [international, american].flatMap((range) =>
    range ? [{ dance, beats, low: range[0], high: range[1], middle: (range[0] + range[1]) / 2 }] : [],
  ),
);

describe('dances that suit, by published ranges in bars a minute', () => {
  it.each(CASES)(
    '$dance at $middle bars a minute: offered as heard, before all that are only near',
    ({ dance, beats, low, high, middle }) => {
      const offers = suits({ beats, subdivision: 2 }, middle * beats);
      const at = offers.findIndex((offer) => offer.dance === dance);
      expect(offers[at]).toMatchObject({ at: 'as heard', within: true });
      expect(offers[at]!.low).toBeLessThanOrEqual(low);
      expect(offers[at]!.high).toBeGreaterThanOrEqual(high);
      expect(offers.slice(0, at).every((offer) => offer.within && offer.at === 'as heard')).toBe(true);
    },
  );

  it.each(CASES)(
    '$dance at twice or half of $middle bars a minute: offered at the other level',
    ({ dance, beats, middle }) => {
      for (const [factor, at] of [
        [2, 'half as fast'],
        [0.5, 'twice as fast'],
      ] as const) {
        const offers = suits({ beats, subdivision: 2 }, factor * middle * beats);
        expect(offers.find((offer) => offer.dance === dance)).toMatchObject({ at, within: true });
      }
    },
  );

  it('3/4 at 84 beats is 28 bars a minute (arithmetic), a waltz first', () => {
    expect(suits({ beats: 3, subdivision: 2 }, 84)[0]).toMatchObject({
      dance: 'waltz',
      bars: 28,
      at: 'as heard',
    });
  });

  it('offers half and double: nightclub two step is listed at 54-64 and 76-88 beats, rumba at 58-75 and 100-144 (second-hand lists)', () => {
    expect(suits({ beats: 4, subdivision: 2 }, 160).find((s) => s.dance === 'nightclub two step')?.at).toBe(
      'half as fast',
    );
    expect(suits({ beats: 4, subdivision: 2 }, 60).find((s) => s.dance === 'rumba')?.at).toBe(
      'twice as fast',
    );
  });

  it('no waltz in four, no foxtrot in three', () => {
    expect(names({ beats: 4, subdivision: 2 }, 90)).not.toContain('waltz');
    expect(names({ beats: 3, subdivision: 2 }, 90)).not.toContain('foxtrot');
  });

  it('12/8 at 66 may be danced in threes or in fours', () => {
    const offered = names({ beats: 4, subdivision: 3 }, 58);
    expect(offered).toContain('viennese waltz');
    expect(offered).toContain('rumba');
  });

  it('the nearest comes first: those within their range before those near it', () => {
    const within = suits({ beats: 4, subdivision: 2 }, 120)
      .filter((s) => s.at === 'as heard')
      .map((s) => s.within);
    expect(within.lastIndexOf(true)).toBeLessThan(within.indexOf(false) === -1 ? 99 : within.indexOf(false));
  });
});
