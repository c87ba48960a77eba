import { describe, expect, it } from 'vitest';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { checkChanges } from '../../../lib/core/areas/checkChanges.ts';
import { changesTo, markedState, planAt } from '../../../lib/core/areas/marks.ts';
import { planShape } from '../../../lib/core/areas/plan.ts';
import { planDifferences } from '../../../lib/core/areas/planDifferences.ts';
import { openOf, songAspects } from '../../../lib/core/song/confirmed.ts';
import { byNobody } from '../../../lib/core/song/grid.ts';
import { barAt, cueAt, cutOut, endingOn, libraryMove, micros, placed, planOf } from '../../kit/board.ts';
import { dice } from '../../kit/synth.ts';

// In the order of their ids, as a board's lists are read.
const moves = ['lean-three', 'waltz-box', 'waltz-left-box', 'waltz-underarm'].map(libraryMove);
const [turningBox, underarm] = [moves[2]!, moves[3]!];
const base = planOf(
  {},
  {
    moves,
    placed: [placed('p1', 'waltz-underarm', barAt(24)), placed('p2', 'waltz-left-box', barAt(40))],
    cues: [cueAt('c1', barAt(8), 'lanterns')],
    ending: endingOn(barAt(104), ['lean-three']),
  },
);
const after = (changes: PlanChange[]) => changePlan(base, changes);
/** Every kind of change that a sheet can make, by number. */
const edits: PlanChange[][] = [
  [{ collection: 'placed', id: 'p3', fields: { move: 'waltz-underarm', at: micros(barAt(56)), times: 1 } }],
  [{ collection: 'placed', id: 'p1', fields: null }],
  [{ collection: 'placed', id: 'p2', fields: { at: micros(barAt(48)) } }],
  [{ collection: 'placed', id: 'p2', fields: { times: 2 } }],
  [{ collection: 'cues', id: 'c1', fields: { word: 'harbour' } }],
  [{ collection: 'cues', id: 'c2', fields: { at: micros(barAt(16)), word: 'windows' } }],
  [{ register: 'edit', value: cutOut(barAt(48), barAt(64)) }],
  [{ register: 'ending', value: null }],
  [{ register: 'phraseBars', value: 4 }],
  [{ collection: 'moves', id: 'waltz-left-box', fields: null }],
];

describe('a mark', () => {
  it('is the state that it was made of', () => {
    expect(planAt(base, markedState(base))).toEqual(base);
  });

  it('that version 1 made is read too: its names stand for each aspect and each section', () => {
    const { grid, sections, ...rest } = JSON.parse(markedState(base));
    const of = (gridBy: string | null, sectionsBy: string | null) => ({
      ...rest,
      grid: { ...grid, confirmedBy: gridBy },
      sections: sections.map(({ confirmedBy: _, ...section }: object & { confirmedBy: unknown }) => section),
      sectionsConfirmedBy: sectionsBy,
    });
    expect(planAt(base, JSON.stringify(of('Marta', 'Marta')))).toEqual(base);
    const open = planAt(base, JSON.stringify(of(null, null)))!;
    expect(openOf(open).map(({ about }) => about)).toEqual(songAspects);
    expect(checkChanges(planShape, base, changesTo(base, open)).ok).toBe(true);
  });

  it('that was made before anybody could say where on the floor the dance begins is read too', () => {
    const { beginsAt: _, stride: __, ...before } = JSON.parse(markedState(base));
    expect(planAt(base, JSON.stringify(before))).toEqual(base);
  });

  it('of a dance that begins elsewhere, with another step, says so', () => {
    const now = { ...base, beginsAt: { x: 3, y: 2.5, facing: 4 }, stride: 0.45 };
    expect(planDifferences(base, now)).toEqual([
      'The dance begins 3 m from the left and 2.5 m from the front, the lead facing the front.',
      'A step is 45 cm.',
    ]);
  });

  it('of a song that was only confirmed since tells of no difference', () => {
    const then = { ...base, grid: { ...base.grid!, confirmedBy: byNobody } };
    expect(planDifferences(then, base)).toEqual([]);
  });

  it('leads back from whatever was done since, by changes that the server accepts', () => {
    const random = dice(7);
    const state = markedState(base);
    for (let round = 0; round < 60; round++) {
      const now = edits
        .filter(() => random() < 0.4)
        .reduce((plan, changes) => changePlan(plan, changes), base);
      const back = changesTo(now, planAt(now, state)!);
      expect(checkChanges(planShape, now, back).ok).toBe(true);
      const then = changePlan(now, back);
      expect(JSON.parse(markedState(then))).toEqual(JSON.parse(state));
      expect(planDifferences(base, then)).toEqual([]);
    }
  });

  it('leaves people, date and hand-over as they are today', () => {
    const now = { ...base, venue: 'Kiln Yard', date: '2027-08-21' as const, lessonsLeft: 1 };
    expect(planAt(now, markedState(base))).toMatchObject({
      venue: 'Kiln Yard',
      date: '2027-08-21' as const,
      lessonsLeft: 1,
    });
  });

  it('leaves a settled song alone: only the dance goes back', () => {
    const now = {
      ...after([...edits[2]!, ...edits[6]!]),
      settled: { by: 'Marit', at: '2027-01-01T10:00:00.000Z' as const, word: '' },
    };
    const back = changesTo(now, planAt(now, markedState(base))!);
    expect(back).toEqual([
      { collection: 'placed', id: 'p2', fields: expect.objectContaining({ at: micros(barAt(40)) }) },
    ]);
  });

  it('knows nothing measured of another recording', () => {
    const recording = { ...base.recording!, id: 'f'.repeat(64) };
    const now = { ...base, recording, imprint: 'abc' };
    expect(planAt(now, markedState(base))).toMatchObject({
      recording: base.recording,
      imprint: null,
      features: null,
    });
  });

  it.each(['', '{}', '{"grid":1}', 'null', '[]'])('that cannot be read is none: %s', (state) => {
    expect(planAt(base, state)).toBeNull();
  });
});

describe('what differs, in words', () => {
  it.each([
    [0, [`${underarm.name} was put at 1:52.`]],
    [1, [`${underarm.name} at 0:48 was taken away.`]],
    [2, [`${turningBox.name} moved from 1:20 to 1:36.`]],
    [3, [`${turningBox.name} at 1:20 is danced twice; it was once.`]],
    [4, ['The word at 0:16 is “harbour”; it was “lanterns”.']],
    [5, ['A word to listen for: “windows” at 0:32.']],
    [6, ['Now left out: 1:36.0 to 2:08.0 of the recording.', 'As played it takes 3:16; it was 3:48.']],
    [7, ['The ending was taken away.']],
    [8, ['A phrase now has 4 bars.']],
    [9, [`No longer among the moves: ${turningBox.name}.`]],
  ])('says of change %i: %j', (n, words) => {
    expect(planDifferences(base, after(edits[n]!))).toEqual(words);
  });
});
