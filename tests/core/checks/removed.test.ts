import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { barAt, boardOf, cueAt, cutOut, endingOn, libraryMove, micros, placed } from '../../kit/board.ts';

const found = (rule: string, more: Partial<Plan>) =>
  checkBoard(boardOf({}, more), '2027-01-10').filter((finding) => finding.rule === rule);

/** Bars 48 to 88 are left out; the word is sung just before the bar line on which the music goes on. */
const edit = cutOut(barAt(48), barAt(88));
const pickUp = cueAt('c', barAt(88) - 0.15, 'until');
const moves = ['waltz-underarm', 'lean-three'].map(libraryMove);

describe('a cue word that the edit leaves out', () => {
  const severity = (more: Partial<Plan>) =>
    found('cue-removed', { edit, moves, cues: [pickUp], ...more }).map((one) => one.severity);
  const pose = { kind: 'cue word' as const, at: micros(barAt(108)), cue: 'c' };

  it('is a hint where nobody listens for it', () => {
    expect(severity({})).toEqual(['hints']);
    expect(severity({ placed: [placed('p', 'waltz-underarm', barAt(90))] })).toEqual(['hints']);
  });

  it.each<[string, Partial<Plan>]>([
    ['a move', { placed: [placed('p', 'waltz-underarm', barAt(88))] }],
    ['the first step', { walkOn: { ...usualWalkOn, firstStep: micros(barAt(88)) } }],
    ['the closing pose', { ending: endingOn(barAt(108), ['lean-three'], { target: pose }) }],
  ])('warns where %s listens for it and is still danced', (_, more) => {
    expect(severity(more)).toEqual(['warns']);
  });

  it('is a hint again where what listens is left out too, and has its own finding', () => {
    const more = {
      placed: [placed('p', 'waltz-underarm', barAt(88) - 0.1)],
      edit: cutOut(barAt(48), barAt(90)),
    };
    expect(severity(more)).toEqual(['hints']);
    expect(found('move-removed', { ...more, moves })).toHaveLength(1);
  });

  it('is the signal’s own finding where it is the signal', () => {
    const more = { ending: endingOn(barAt(108), ['lean-three'], { signal: 'c' }) };
    expect(severity(more)).toEqual([]);
    expect(found('signal-removed', { ...more, edit, moves, cues: [pickUp] })).toHaveLength(1);
  });
});

describe('a first step that the edit leaves out', () => {
  it('is offered another, in music that is played', () => {
    const walkOn = { ...usualWalkOn, firstStep: micros(barAt(8)) };
    const [finding] = found('first-step-removed', { edit: cutOut(0, barAt(10)), walkOn });
    expect(finding?.severity).toBe('blocks');
    expect(finding?.fix?.changes).toMatchObject([{ register: 'walkOn' }]);
    expect(found('first-step-removed', { walkOn })).toEqual([]);
    expect(found('first-step-removed', { edit: cutOut(0, barAt(10)) })).toEqual([]);
  });
});

describe('counts that nobody has confirmed', () => {
  it('are told one by one', () => {
    const { grid } = boardOf().plan;
    const open = (by: object) =>
      found('grid-not-confirmed', { grid: { ...grid!, confirmedBy: { ...grid!.confirmedBy, ...by } } }).map(
        ({ sentence }) => sentence,
      );
    expect(open({ metre: null, bars: null })).toEqual([
      'Nobody has confirmed the metre and bars yet: listen with the counts clicked, and say that they are right.',
    ]);
    expect(open({ metre: null })).toEqual([
      'Nobody has confirmed the metre yet: listen with the counts clicked, and say that it is right.',
    ]);
    expect(open({})).toEqual([]);
  });
});
