import { describe, expect, it } from 'vitest';
import { following, momentAt, stretchAt, stretchesOf } from '../../../app/_practice/followed.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { floorTime } from '../../../lib/core/units.ts';
import { barAt, cueAt, cutOut, endingOn, libraryMove, placed, planOf } from '../../kit/board.ts';

const box = { ...libraryMove('waltz-box'), id: 'box', name: 'Underarm turn' };
const plan = planOf(
  {},
  {
    moves: [box],
    placed: [placed('p', 'box', barAt(24), 2)],
    cues: [
      cueAt('c1', barAt(8), 'lanterns'),
      cueAt('c2', barAt(24) + 0.1, 'stay'),
      cueAt('c3', barAt(40), 'gone'),
    ],
    edit: cutOut(barAt(32), barAt(48)),
  },
);
const score = boardScore(plan)!;
const follow = following(plan, score);
const at = (seconds: number) => momentAt(follow, floorTime(seconds));

describe('what stands at a moment of the music', () => {
  it('says the number that dancers say, the word heard now, and the next', () => {
    const moment = at(barAt(8) + 60 / 90 + 0.01);
    expect(moment.said).toBe('2');
    expect(moment.now).toBe('lanterns');
    expect(moment.next?.word).toBe('stay');
    expect(moment.section).toBe('verse 1');
  });

  it('calls the next move ahead, in bars and then in counts, on its word', () => {
    expect(at(barAt(22)).call).toMatchObject({ name: 'Underarm turn, twice', on: 'stay' });
    expect(at(barAt(22)).callWhen).toBe('in two bars');
    expect(at(barAt(23)).callWhen).toBe('in one bar');
    expect(at(barAt(23) + 60 / 90).callWhen).toBe('in two counts');
    expect(at(barAt(24)).dancing).toBe('Underarm turn, twice');
  });

  it('knows nothing of a word that the edit leaves out', () => {
    expect(follow.cues.map(({ word }) => word)).toEqual(['lanterns', 'stay']);
  });

  it('is in floor time after a join', () => {
    const moment = at(barAt(33));
    expect(moment.section).toBe('verse 2');
    expect(moment.said).toBe('1');
  });

  it('says no count where the counts have stopped', () => {
    const late = planOf({ lead: 6 });
    const before = momentAt(following(late, boardScore(late)!), floorTime(2));
    expect([before.count, before.said]).toEqual([null, '']);
  });

  it('calls the closing pose last', () => {
    const pose = { ...libraryMove('lean-three'), id: 'lean' };
    const ending = endingOn(barAt(100), ['lean']);
    const calls = following({ ...plan, moves: [box, pose], ending }, score).calls;
    expect(calls.at(-1)!.name).toBe('closing pose');
  });
});

describe('a stretch to dance again', () => {
  it('is the phrase, or the section, that a moment lies in', () => {
    const section = stretchAt(score, floorTime(barAt(10)), 'section')!;
    expect([section.name, section.from, section.to]).toEqual([
      'verse 1',
      barAt(8),
      expect.closeTo(barAt(24), 4),
    ]);
    const phrase = stretchAt(score, floorTime(barAt(17)), 'phrase')!;
    expect(phrase.name).toBe('verse 1, phrase 2');
    expect(phrase.to - phrase.from).toBeCloseTo(16, 4);
  });
});

describe('bars to choose a stretch by', () => {
  const bars = stretchesOf(score, follow.cues);
  it('lie end to end through the music, across a join too', () => {
    for (const [i, bar] of bars.slice(1).entries()) expect(bar.from).toBe(bars[i]!.to);
    expect(bars.at(-1)!.to).toBe(score.length);
    const counts = score.counts.filter((count) => count.inBar === 0);
    expect(bars).toHaveLength(counts.length);
  });
  it('carry the word that is heard in them', () => {
    expect(bars.find((bar) => bar.word === 'lanterns')?.from).toBeCloseTo(barAt(8), 6);
    expect(bars.filter((bar) => bar.word !== '')).toHaveLength(follow.cues.length);
  });
});
