import { describe, expect, it } from 'vitest';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { dancedOf, readAcross, sayingSeconds, shortName } from '../../../lib/core/handover/danced.ts';
import { drillId, homeworkStretch } from '../../../lib/core/handover/homework.ts';
import { nextRound, SLOW } from '../../../lib/core/handover/rounds.ts';
import { runUpTo, stretchAt, wider } from '../../../lib/core/handover/stretch.ts';
import { floorTime } from '../../../lib/core/units.ts';
import { barAt, cueAt, cutOut, endingOn, libraryMove, micros, placed, planOf } from '../../kit/board.ts';

const box = libraryMove('waltz-box');
const turn = libraryMove('waltz-underarm');
const plan = planOf(
  {},
  {
    moves: [box, turn, libraryMove('lean-three')],
    placed: [placed('p', turn.id, barAt(24), 2), placed('q', turn.id, barAt(34))],
    cues: [
      cueAt('a', barAt(8), 'lanterns'),
      cueAt('b', barAt(24), 'stay until'),
      cueAt('c', barAt(60), 'stay'),
    ],
    edit: cutOut(barAt(40), barAt(56)),
    walkOn: { ...usualWalkOn, firstStep: micros(barAt(8)) },
    ending: endingOn(barAt(100), ['lean-three']),
  },
);
const score = boardScore(plan)!;
const danced = dancedOf(plan, score);

describe('what is danced', () => {
  it('lies end to end from the first sound to the last, and begins with the walk', () => {
    expect(danced[0]).toMatchObject({ kind: 'wait', from: 0 });
    expect(danced.slice(0, 3).map(({ kind }) => kind)).toEqual(['wait', 'walk on', 'basic']);
    for (const [i, one] of danced.slice(1).entries()) expect(one.from).toBeCloseTo(danced[i]!.to, 9);
    expect(danced.at(-1)).toMatchObject({ kind: 'over', to: score.length });
  });

  it('is the basic wherever no move is, and a move as long as it takes', () => {
    const moves = danced.filter(({ kind }) => kind === 'move');
    expect(moves.slice(0, 2).map(({ name, times }) => [name, times])).toEqual([
      [turn.name, 2],
      [turn.name, 1],
    ]);
    expect(moves[0]!.end - moves[0]!.first).toBeGreaterThanOrEqual(2 * turn.counts);
    expect(moves[0]!.led).toBeCloseTo(moves[0]!.from - turn.preparation * score.interval, 4);
    expect(danced.filter(({ kind }) => kind === 'basic').map(({ name }) => name)).toEqual(
      Array(3).fill(box.name),
    );
  });

  it('ends with the pose that the ending lands on, kept as long as it says', () => {
    const pose = danced.find(({ kind }) => kind === 'pose')!;
    expect(pose.from).toBeCloseTo(barAt(100 - 16), 4);
    expect(pose.to - pose.from).toBeCloseTo(plan.ending!.hold, 4);
  });

  it('lets the later of two moves that overlap cut the earlier', () => {
    const over = dancedOf(
      { ...plan, placed: [placed('p', turn.id, barAt(24), 2), placed('q', turn.id, barAt(25))] },
      score,
    ).filter(({ kind }) => kind === 'move');
    expect(over[0]!.to).toBeCloseTo(barAt(25), 4);
    expect(over[1]!.from).toBeCloseTo(barAt(25), 4);
  });

  it('is nothing where no counts are known', () => {
    expect(dancedOf({ ...plan, grid: null }, { ...score, counts: [] })).toEqual([]);
  });
});

describe('names that are called', () => {
  it.each([
    ['Underarm turn', 'Underarm turn'],
    ['Left turning box (quarter turns)', 'Left turning box'],
    ['Roll out and in, to one hand', 'Roll out and in'],
    ['(their own)', '(their own)'],
    ['A very long name that nobody could call across a room in time', 'A very long name that nobody'],
  ])('%s', (name, called) => expect(shortName(name)).toBe(called));
  it.each([
    ['Underarm turn', 'Underarm turn', ''],
    ['Left turning box (quarter turns)', 'Left turning box', ''],
    ['Promenade with underarm turn', 'Promenade', 'with underarm turn'],
    ['Open break and close in', 'Open break', 'and close in'],
    ['Right turning basic', 'Right turning', 'basic'],
    ['Hesitation change', 'Hesitation', 'change'],
    ['Under the bridge we built', 'Under', 'the bridge we built'],
    ['Brunnlindenhagenwaldstetten', 'Brunnlindenhagenwaldstetten', ''],
  ])('%s is read across a room as %s', (name, call, rest) =>
    expect(readAcross(name)).toEqual({ call, rest }),
  );
  it('are called by few letters in the whole library, and nothing of them is lost', () => {
    for (const { name } of standardMoves) {
      const { call, rest } = readAcross(name);
      expect(call.length, name).toBeLessThanOrEqual(16);
      expect([call, rest].filter(Boolean).join(' ')).toBe(shortName(name));
    }
  });
  it('take longer the longer they are', () => {
    expect(sayingSeconds('closing pose')).toBeGreaterThan(sayingSeconds('lean'));
    expect(sayingSeconds('underarm turn')).toBeLessThan(2);
  });
});

describe('a stretch to dance again', () => {
  const phrase = stretchAt(score, floorTime(barAt(17)), 'phrase')!;

  it('begins two bars before, as far as there is music', () => {
    expect(runUpTo(score, phrase.from)).toBeCloseTo(phrase.from - 2 * 2, 4);
    expect(runUpTo(score, floorTime(0))).toBe(0);
    expect(runUpTo(score, floorTime(barAt(1)))).toBe(0);
  });

  it('grows from phrase to section to all, and no further', () => {
    const section = wider(score, phrase)!;
    expect(section).toMatchObject({ scope: 'section', name: 'verse 1' });
    expect(section.from).toBeLessThan(phrase.from);
    const all = wider(score, section)!;
    expect(all).toMatchObject({ scope: 'all', from: 0, to: score.length });
    expect(wider(score, all)).toBeNull();
  });

  it('a phrase that is its whole section grows to all at once', () => {
    const intro = stretchAt(score, floorTime(0), 'phrase')!;
    expect(wider(score, intro)?.scope).toBe('all');
  });
});

describe('round by round', () => {
  it('builds up to exactly full speed and stays there', () => {
    const speeds: number[] = [];
    let round = { speed: SLOW, atFull: 0 };
    for (let i = 0; i < 6; i++) {
      speeds.push(round.speed);
      round = nextRound(round, { buildsUp: true, grows: false });
    }
    expect(speeds).toEqual([0.7, 0.8, 0.9, 1, 1, 1]);
  });

  it('grows after two rounds at full speed, and begins slow again where it builds up', () => {
    const second = nextRound({ speed: 1, atFull: 0 }, { buildsUp: true, grows: true });
    expect(second).toEqual({ speed: 1, atFull: 1, grow: false });
    expect(nextRound(second, { buildsUp: true, grows: true })).toEqual({
      speed: SLOW,
      atFull: 0,
      grow: true,
    });
  });

  it('leaves alone the speed that somebody chose, where it does not build up', () => {
    expect(nextRound({ speed: 0.85, atFull: 0 }, { buildsUp: false, grows: false })).toMatchObject({
      speed: 0.85,
      grow: false,
    });
  });
});

describe('where a line of homework is danced', () => {
  const at = (words: string, drills: Parameters<typeof homeworkStretch>[1]['drills'] = []) =>
    homeworkStretch(words, { plan, drills }, score);

  it.each([
    ['Underarm turn twice, then four boxes, from “stay until”', 'pre-chorus 1'],
    ['Box step through Verse 2, every second day', 'verse 2'],
    ['The underarm turn, slowly', 'pre-chorus 1'],
    ['Walk on from the doors with a chair', 'walk-on'],
    ['Closing pose as a lean, four slow breaths', 'chorus 3, phrase 1'],
    ['Through one verse with eyes closed', 'verse 1'],
  ])('%s', (words, name) => expect(at(words)?.name).toBe(name));

  it('is the longer of two cue words that it names', () => {
    // “stay” alone is heard later.
    expect(at('from stay until')?.from).toBeCloseTo(barAt(24), 4);
  });

  it('is the phrase that a word in the last two bars before it leads to', () => {
    const leading = { ...plan, cues: [cueAt('d', barAt(23), 'harp runs up')] };
    const found = homeworkStretch('from “harp runs up”', { plan: leading, drills: [] }, score);
    expect(found?.name).toBe('pre-chorus 1');
  });

  it('is what somebody chose, whatever the words name', () => {
    const words = 'The underarm turn, slowly';
    const id = drillId(words);
    expect(at(words, [{ id, section: 's1', phrase: 1 }])?.name).toBe('verse 1, phrase 2');
    expect(at(words, [{ id, section: 's1', phrase: null }])?.name).toBe('verse 1');
    expect(at(words, [{ id, section: 'gone', phrase: null }])?.name).toBe('pre-chorus 1');
    expect(drillId('“The underarm  turn”, slowly')).toBe(id);
  });

  it('is nothing where the words name nothing of the dance', () => {
    expect(at('Break in the shoes')).toBeNull();
    // No part of another word.
    expect(at('The staying power')).toBeNull();
  });
});
