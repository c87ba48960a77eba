import { describe, expect, it } from 'vitest';
import { callAhead, following, momentAt, stretchesOf } from '../../../app/_practice/followed.ts';
import { whenWords } from '../../../app/_practice/words.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { sayingSeconds } from '../../../lib/core/handover/danced.ts';
import { stretchAt } from '../../../lib/core/handover/stretch.ts';
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
    expect(moment.heard).toBe('lanterns');
    expect(moment.next?.word).toBe('stay');
    expect(moment.section).toBe('verse 1');
  });

  it('calls the next move ahead, in bars and then in counts, on its word', () => {
    expect(at(barAt(22)).call).toMatchObject({ name: 'Underarm turn', times: 'twice', on: 'stay' });
    const when = (bars: number) => {
      const here = floorTime(bars);
      return [at(bars).coming?.when, whenWords(at(bars).call!.at, here, score)];
    };
    expect(when(barAt(22))).toEqual(['in 2 bars', 'in two bars']);
    expect(when(barAt(23))).toEqual(['in 1 bar', 'in one bar']);
    expect(when(barAt(23) + 60 / 90)).toEqual(['in 2 counts', 'in two counts']);
    expect(at(barAt(24)).dancing).toMatchObject({ kind: 'move', name: 'Underarm turn', times: 2 });
  });

  it('counts what is danced from its own first count', () => {
    expect(at(barAt(24)).within).toEqual({ at: 0, of: 2 * box.counts });
    expect(at(barAt(25) + 60 / 90).within?.at).toBe(4);
  });

  it('says in a loop what is danced once more, and nothing from behind its end', () => {
    const phrase = stretchAt(score, floorTime(barAt(8)), 'phrase')!;
    expect(momentAt(follow, floorTime(barAt(14)), phrase).coming).toMatchObject({
      name: 'once more',
      when: 'in 2 bars',
      on: 'lanterns',
    });
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

describe('calls', () => {
  // Quick and slow: Viennese waltz at 60 bars a minute and a slow waltz at 28 (World Dance Council's ranges, from memory).
  const songs = [
    { bpm: 180, beatsPerBar: 3 },
    { bpm: 84, beatsPerBar: 3 },
    { bpm: 120, beatsPerBar: 4 },
  ] as const;
  it.each(songs)('of every move are over before it is led, at $bpm beats a minute', (spec) => {
    for (const move of standardMoves) {
      const one = planOf(spec, { moves: [move], placed: [placed('p', move.id, barAt(40, spec))] });
      const onFloor = boardScore(one)!;
      const call = following(one, onFloor).calls.find(({ at }) => at >= barAt(40, spec) - 0.01);
      if (!call) continue;
      for (const speed of [0.6, 1, 1.1]) {
        const begins = call.at - callAhead(call, onFloor, speed);
        expect(begins + sayingSeconds(call.name) * speed, move.name).toBeLessThan(call.led);
        expect(call.at - begins).toBeGreaterThanOrEqual(2 * onFloor.countsPerBar * onFloor.interval - 1e-9);
      }
    }
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
