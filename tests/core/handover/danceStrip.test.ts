import { describe, expect, it } from 'vitest';
import { phraseAt, phraseSentence, stripSentence } from '../../../app/_ui/words.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { danceStripOf } from '../../../lib/core/handover/danceStrip.ts';
import { danceStrip } from '../../../lib/core/handover/danceStripShape.ts';
import { floorTime } from '../../../lib/core/units.ts';
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

// 3/4 at 90: a bar is two seconds. Nine parts, 112 bars, and four seconds in which they ring out: 228 s (arithmetic).
const cut = cutOut(barAt(48), barAt(88));
const plan = planOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm', 'dip-three'].map(libraryMove),
    cues: [
      cueAt('a', barAt(8), 'lanterns'),
      cueAt('b', barAt(88), 'windows'),
      cueAt('d', barAt(24) - 0.5, 'slowly'),
      cueAt('c', barAt(60), 'never played'),
    ],
    placed: [placed('p', 'waltz-underarm', barAt(24), 2), placed('q', 'waltz-underarm', barAt(60))],
    edit: cut,
    ending: endingOn(barAt(108), ['dip-three']),
    walkOn: { ...usualWalkOn, from: 'the garden door', firstStep: micros(barAt(8)) },
  },
);
const strip = danceStripOf(plan)!;

describe('the strip of the whole dance', () => {
  it('lays parts and phrases on the floor without a gap, and as long as what is played', () => {
    expect(strip.length).toBeCloseTo(228 - 80, 6);
    expect(strip.parts.map(({ name }) => name)).toEqual([
      'intro',
      'verse 1',
      'pre-chorus 1',
      'chorus 1',
      'bridge',
      'chorus 3',
    ]);
    for (const list of [strip.parts, strip.phrases])
      for (const [i, { from }] of list.entries()) expect(from).toBeCloseTo(i === 0 ? 0 : list[i - 1]!.to, 6);
    // What rings out after the last bar is of no part.
    expect(strip.parts.at(-1)!.to).toBeCloseTo(224 - 80, 5);
    const { phrases } = boardScore(plan)!;
    expect(strip.phrases.map(({ from }) => from)).toEqual(phrases.map(({ floor }) => floor));
  });

  it('gives the same music the same number', () => {
    const like = new Map(strip.parts.map((part) => [part.name, part.like]));
    expect(like.get('chorus 1')).toBe(like.get('chorus 3'));
    expect(like.get('verse 1')).not.toBe(like.get('chorus 1'));
  });

  it('names the word that opens a phrase, a pick-up too, and none that is not played', () => {
    const words = strip.phrases.map(({ word }) => word).filter(Boolean);
    expect(words).toEqual(['lanterns', 'slowly', 'windows']);
    expect(strip.phrases.find(({ word }) => word === 'windows')!.from).toBeCloseTo(96, 6);
  });

  it('has what is left out at its join, and nothing of a move that is not played', () => {
    expect(strip.leftOut).toEqual([
      { at: 96, seconds: 80, words: 'verse 2, pre-chorus 2 and chorus 2, 1:20', joined: true },
    ]);
    expect(strip.moves.map(({ id }) => id)).toEqual(['p', 'ending-0']);
    expect(strip.moves[0]).toMatchObject({ from: 48, to: 56, ending: false });
  });

  it('has first step, walk-on and closing pose', () => {
    expect(strip.firstStep).toBeCloseTo(16, 6);
    expect(strip.walk!.to).toBeCloseTo(16, 6);
    expect(strip.pose!.from).toBeCloseTo(216 - 80, 6);
    expect(strip.moves.at(-1)!.to).toBeCloseTo(strip.pose!.from, 6);
  });

  it('folds what comes before the beginning and after a fade', () => {
    const faded = danceStripOf(planOf({}, { edit: fadeAt(barAt(60), 8, { start: micros(barAt(8)) }) }))!;
    expect(faded.leftOut.map(({ at, joined }) => [at, joined])).toEqual([
      [0, false],
      [faded.length, false],
    ]);
    expect(faded.fade!.to).toBeCloseTo(faded.length, 6);
    expect(faded.pose).toBeNull();
  });

  it('is nothing without counts, and plain data with its own shape', () => {
    expect(danceStripOf(planOf({}, { grid: null }))).toBeNull();
    expect(danceStrip.parse(JSON.parse(JSON.stringify(strip)))).toEqual(strip);
  });
});

describe('what it says', () => {
  it('tells the whole in a sentence', () => {
    expect(stripSentence(strip)).toBe(
      'The whole dance, 2:28 as played: 6 parts; 9 phrases; 2 moves; left out: verse 2, pre-chorus 2 and chorus 2, 1:20; closing pose at 2:16.',
    );
  });

  it('tells where somebody is, phrase by phrase', () => {
    expect(phraseAt(strip, floorTime(0))).toBe(0);
    const here = phraseAt(strip, floorTime(97));
    expect(phraseSentence(strip, here)).toBe('bridge, 1:36, “windows”');
    expect(phraseSentence(strip, phraseAt(strip, floorTime(49)))).toContain(
      'pre-chorus 1, 0:48, “slowly”: underarm turn',
    );
  });
});
