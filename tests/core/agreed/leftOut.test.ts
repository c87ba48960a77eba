import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leftOutBy } from '../../../lib/core/agreed/leftOut.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { type Change, changePlan } from '../../../lib/core/areas/change.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { danceInto, showInto, songInto } from '../../../lib/core/areas/shift.ts';
import type { Show, showShape } from '../../../lib/core/areas/show.ts';
import { floorOf } from '../../../lib/core/dance/clock.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { type Edit, wholeSong } from '../../../lib/core/edit/edit.ts';
import type { Places } from '../../../lib/core/song/places.ts';
import { clock, type RecordTime } from '../../../lib/core/units.ts';
import {
  barAt,
  boardOf,
  cueAt,
  cutOut,
  endingOn,
  fadeAt,
  gridOf,
  libraryMove,
  micros,
  placed,
} from '../../kit/board.ts';

const board: Board = {
  ...boardOf(
    {},
    {
      moves: ['waltz-box', 'waltz-underarm', 'lean-three'].map(libraryMove),
      placed: [placed('a', 'waltz-underarm', barAt(40)), placed('b', 'waltz-box', barAt(48))],
      cues: [
        cueAt('fiddle', barAt(8), 'the fiddle'),
        cueAt('bells', barAt(104), 'last bells'),
        cueAt('again', barAt(100), 'bells again'),
        cueAt('idle', barAt(60), 'nobody listens'),
      ],
      walkOn: { ...usualWalkOn, firstStep: micros(barAt(8)) },
      ending: endingOn(barAt(104), ['lean-three'], {
        target: { kind: 'cue word', at: micros(barAt(104)), cue: 'bells' },
        signal: 'again',
      }),
    },
  ),
  show: {
    ...boardOf().show!,
    moments: [{ id: 'm', at: micros(barAt(35)), who: 'lights', what: 'lights down' }],
  },
};
const changesIn = (show: Show, changes: Change<typeof showShape>[]): Show => ({
  ...show,
  moments: show.moments.map((one) => {
    const change = changes.find((it) => 'collection' in it && it.id === one.id);
    return { ...one, ...(change && 'fields' in change ? change.fields : {}) };
  }),
});
const edited = (edit: Edit, more: Partial<Plan> = {}): Board => ({
  ...board,
  plan: { ...board.plan, edit, ...more },
});

describe('what a change takes away that was played', () => {
  it('is told in plain words, by the music as it was', () => {
    expect(leftOutBy(board, edited(cutOut(0, barAt(10))))).toEqual([
      'the first step at 0:16',
      'the cue word “the fiddle” at 0:16',
    ]);
    expect(leftOutBy(board, edited(cutOut(barAt(32), barAt(64))))).toEqual([
      '2 moves: Underarm turn, Box step',
      'the moment “lights down” at 1:10',
    ]);
    expect(leftOutBy(board, edited(cutOut(barAt(38), barAt(44))))).toEqual([
      'the move Underarm turn at 1:20',
    ]);
    expect(leftOutBy(board, edited(fadeAt(barAt(80), 8)))).toEqual([
      'the closing pose on “last bells”',
      '2 cue words: “bells again”, “last bells”',
    ]);
  });

  it('is of the music as it was played, not of the recording', () => {
    const later = edited({ ...wholeSong, start: micros(barAt(4)) });
    expect(leftOutBy(later, edited(cutOut(0, barAt(10))))[0]).toBe('the first step at 0:08');
  });

  it('is nothing where all is still played, was not played before, or the change itself took it off the board', () => {
    expect(leftOutBy(board, edited(cutOut(barAt(64), barAt(80))))).toEqual([]);
    expect(leftOutBy(board, { ...board, plan: { ...board.plan, grid: gridOf({ bpm: 91 }) } })).toEqual([]);
    const cut = edited(cutOut(barAt(32), barAt(64)));
    expect(leftOutBy(cut, edited(cutOut(barAt(32), barAt(72))))).toEqual([]);
    expect(leftOutBy(board, edited(cutOut(barAt(38), barAt(64)), { placed: [] }))).toEqual([]);
    expect(leftOutBy({ ...board, show: null }, { ...cut, show: null })).toEqual([
      '2 moves: Underarm turn, Box step',
    ]);
  });

  it('is told of a shorter recording too; of another copy, whose times went with it, nothing', () => {
    const recording = { ...board.plan.recording!, duration: barAt(102) };
    expect(leftOutBy(board, { ...board, plan: { ...board.plan, recording } })).toEqual([
      'the closing pose on “last bells”',
      'the cue word “last bells” at 3:28',
    ]);
    const copy = { ...board.plan.recording!, duration: micros(board.plan.recording!.duration + 3) };
    const later: Places = { ratio: 1, whole: true, of: (at) => micros(at + 3) };
    const changes = [...songInto(board.plan, later)!, ...danceInto(board.plan, later)];
    const moved = { ...changePlan(board.plan, changes), recording: copy };
    const show = changesIn(board.show!, showInto(board.show!, later, copy.id));
    expect(leftOutBy(board, { ...board, plan: moved, show })).toEqual([]);
  });

  it('names each once, and a few of many', () => {
    const often = Array.from({ length: 7 }, (_, i) => placed(`p${i}`, 'waltz-box', barAt(20 + i)));
    const cues = often.map(({ at }, i) => cueAt(`c${i}`, at, `word ${i}`));
    const before = edited(wholeSong, { placed: often, cues });
    expect(leftOutBy(before, edited(cutOut(barAt(16), barAt(32)), { placed: often, cues }))).toEqual([
      '7 moves: Box step',
      '7 cue words: “word 0”, “word 1”, “word 2”, “word 3” and others',
    ]);
  });
});

const END = barAt(112);
const time = fc.integer({ min: 0, max: Math.round(END * 1000) }).map((ms) => micros(ms / 1000));
const edits: fc.Arbitrary<Edit> = fc
  .record({
    start: fc.oneof({ weight: 3, arbitrary: fc.constant(micros(0)) }, time),
    cuts: fc.uniqueArray(time, { maxLength: 4 }).map((at) => at.sort((a, b) => a - b)),
    fade: fc.option(time),
  })
  .map(({ start, cuts, fade }) => ({
    ...wholeSong,
    start,
    cuts: cuts.flatMap((from, i) =>
      i % 2 === 0 && cuts[i + 1] !== undefined ? [{ from, to: cuts[i + 1]!, crossfade: 0.02 }] : [],
    ),
    end: fade === null ? wholeSong.end : fadeAt(fade, 6).end,
  }));

it('names exactly what floorOf places before and not after, whatever the two edits', () => {
  const things = fc.record({
    step: time,
    pose: time,
    moves: fc.array(time, { maxLength: 3 }),
    moments: fc.array(time, { maxLength: 3 }),
  });
  fc.assert(
    fc.property(edits, edits, things, (one, other, { step, pose, moves, moments }) => {
      const boxes = moves.map((_, i) => ({ ...libraryMove('waltz-box'), id: `box-${i}`, name: `Box ${i}` }));
      // A word for each move, and the signal of the ending.
      const cues = [...moves, pose].map((at, i) => cueAt(`c${i}`, at, `word ${i}`));
      const made = (edit: Edit): Board => ({
        ...boardOf(
          {},
          {
            ...{ edit, cues, moves: boxes },
            placed: moves.map((at, i) => placed(`p${i}`, `box-${i}`, at)),
            walkOn: { ...usualWalkOn, firstStep: step },
            ending: endingOn(pose, [], { signal: `c${moves.length}` }),
          },
        ),
        show: {
          ...board.show!,
          moments: moments.map((at, i) => ({ id: `m${i}`, at, who: '', what: `moment ${i}` })),
        },
      });
      const [before, after] = [made(one), made(other)];
      const isLost = (at: RecordTime) =>
        floorOf(before.plan, at) !== null && floorOf(after.plan, at) === null;
      const told = leftOutBy(before, after).join('\n');
      const lost = [
        ...(isLost(step) ? [`the first step at ${clock(floorOf(before.plan, step)!)}`] : []),
        ...(isLost(pose) ? [`the closing pose at ${clock(floorOf(before.plan, pose)!)}`] : []),
        ...moves.flatMap((at, i) => (isLost(at) ? [`Box ${i}`, `“word ${i}”`] : [])),
        ...moments.flatMap((at, i) => (isLost(at) ? [`“moment ${i}”`] : [])),
        ...(isLost(pose) ? [`“word ${moves.length}”`] : []),
      ];
      const names = told.match(/the first step at [\d:]+|the closing pose at [\d:]+|Box \d|“[^”]+”/g) ?? [];
      expect([...names].sort()).toEqual(lost.sort());
      expect(told === '').toBe(lost.length === 0);
    }),
    { numRuns: 300 },
  );
});

it('takes less than 5 ms on a board with sixty moves and two hundred words', () => {
  const many = edited(wholeSong, {
    placed: Array.from({ length: 60 }, (_, i) => placed(`p${i}`, 'waltz-box', barAt(8 + i))),
    cues: Array.from({ length: 200 }, (_, i) => cueAt(`c${i}`, barAt(4) + i, `word ${i}`)),
  });
  const after = { ...many, plan: { ...many.plan, edit: cutOut(barAt(16), barAt(64)) } };
  const runs = Array.from({ length: 20 }, () => {
    const began = performance.now();
    leftOutBy(many, after);
    return performance.now() - began;
  });
  expect(Math.min(...runs)).toBeLessThan(5);
});
