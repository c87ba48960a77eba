import { describe, expect, it } from 'vitest';
import { suits } from '../../../lib/core/song/suits.ts';

const names = (metre: { beats: 2 | 3 | 4; subdivision: 2 | 3 }, tempo: number) =>
  suits(metre, tempo).map((s) => s.dance);

describe('dances that suit, by published ranges in bars a minute', () => {
  it.each([
    // Competition rules of the world federation, as extracted by a national society.
    { dance: 'waltz', beats: 3, tempo: 87 },
    { dance: 'viennese waltz', beats: 3, tempo: 177 },
    { dance: 'foxtrot', beats: 4, tempo: 116 },
    { dance: 'tango', beats: 4, tempo: 128 },
    { dance: 'rumba', beats: 4, tempo: 104 },
    { dance: 'quickstep', beats: 4, tempo: 204 },
    // American social and syllabus lists (second-hand).
    { dance: 'bolero', beats: 4, tempo: 100 },
    { dance: 'nightclub two step', beats: 4, tempo: 76 },
    { dance: 'swing', beats: 4, tempo: 144 },
  ] as const)('$tempo beats in $beats suits $dance', ({ dance, beats, tempo }) => {
    const offer = suits({ beats, subdivision: 2 }, tempo).find((s) => s.dance === dance);
    expect(offer).toMatchObject({ at: 'as heard', within: true });
  });

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
