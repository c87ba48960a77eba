import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Board } from '../../../lib/core/areas/board.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import { planShape } from '../../../lib/core/areas/plan.ts';
import { checkBoard, rulesNotRun } from '../../../lib/core/checks/checkBoard.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import type { Edit } from '../../../lib/core/edit/edit.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import {
  barAt,
  boardOf,
  cueAt,
  cutOut,
  endingOn,
  fadeAt,
  libraryMove,
  micros,
  placed,
  type SongSpec,
} from '../../kit/board.ts';

const today = '2027-06-01';
const songs: { spec: SongSpec; moves: string[]; poses: string[] }[] = [
  {
    spec: {},
    moves: [
      'waltz-box',
      'waltz-underarm',
      'waltz-left-box',
      'waltz-whisk',
      'waltz-chasse',
      'foxtrot-underarm',
    ],
    poses: ['dip-three', 'lean-three'],
  },
  {
    spec: { beatsPerBar: 4, bpm: 112, lead: 0.4 },
    moves: [
      'foxtrot-basic',
      'foxtrot-box',
      'foxtrot-underarm',
      'rumba-open-break',
      'rumba-close-in',
      'waltz-underarm',
    ],
    poses: ['dip-four', 'lean-four'],
  },
  {
    spec: { beatsPerBar: 2, subdivision: 3, countLevel: 'subdivision', bpm: 60 },
    moves: ['waltz-box', 'waltz-underarm', 'waltz-progressive', 'sway-four'],
    poses: ['dip-three', 'embrace-three'],
  },
];

/** Boards as people leave them half way: moves anywhere, edits of every kind, endings that may or may not fit. */
const boards: fc.Arbitrary<Board> = fc
  .record({
    song: fc.constantFrom(...songs),
    places: fc.array(
      fc.record({
        beat: fc.integer({ min: 0, max: 440 }),
        move: fc.nat(5),
        times: fc.integer({ min: 1, max: 3 }),
      }),
      {
        maxLength: 7,
      },
    ),
    edit: fc.constantFrom('whole', 'fade', 'cut', 'off', 'both'),
    at: fc.integer({ min: 20, max: 60 }),
    ending: fc.option(
      fc.record({
        beat: fc.integer({ min: 3, max: 460 }),
        two: fc.boolean(),
        hold: fc.integer({ min: 0, max: 8 }),
      }),
    ),
    firstStep: fc.option(fc.integer({ min: 0, max: 90 })),
    metres: fc.integer({ min: 0, max: 40 }),
    cues: fc.array(fc.integer({ min: 0, max: 440 }), { maxLength: 6 }),
    band: fc.boolean(),
    room: fc.integer({ min: 2, max: 8 }),
    lessonsLeft: fc.option(fc.integer({ min: 0, max: 6 })),
    target: fc.option(fc.integer({ min: 120, max: 240 })),
  })
  .map(({ song: { spec, moves, poses }, ...is }) => {
    const beat = (n: number) => barAt(0, spec) + (n * 60) / (spec.bpm ?? 90);
    const edits: Record<typeof is.edit, Edit> = {
      whole: wholeSong,
      fade: fadeAt(barAt(84, spec), 7),
      cut: cutOut(barAt(is.at, spec), barAt(is.at + 24, spec)),
      off: cutOut(barAt(is.at, spec), beat(is.at * 4 + 61)),
      both: { ...cutOut(barAt(is.at, spec), barAt(is.at + 8, spec)), end: fadeAt(barAt(90, spec), 17).end },
    };
    const board = boardOf(spec, {
      moves: [...moves, ...poses].map(libraryMove),
      placed: is.places.map((p, i) => placed(`p${i}`, moves[p.move % moves.length]!, beat(p.beat), p.times)),
      cues: is.cues.map((n, i) => cueAt(`c${i}`, beat(n), `word ${i}`)),
      edit: edits[is.edit],
      ending: is.ending
        ? endingOn(beat(is.ending.beat), is.ending.two ? [moves[1]!, poses[0]!] : [poses[1]!], {
            hold: is.ending.hold,
          })
        : null,
      walkOn: {
        ...usualWalkOn,
        metres: is.metres,
        firstStep: is.firstStep === null ? null : micros(beat(is.firstStep)),
      },
      musicBy: is.band ? 'band' : 'dj',
      lessonsLeft: is.lessonsLeft,
      target: is.target === null ? null : { length: is.target, within: 20 },
    });
    const floor = { width: is.room, depth: 8, surface: '', obstacles: '', guests: '' };
    return { ...board, show: { ...board.show!, floor } };
  });

describe('fixes', () => {
  it('end their finding, block nothing else, keep every move, and leave a plan that its area accepts', () => {
    let fixes = 0;
    fc.assert(
      fc.property(boards, (board) => {
        const found = checkBoard(board, today);
        const blocked = new Set(found.filter(({ severity }) => severity === 'blocks').map(({ id }) => id));
        for (const { id, fix } of found) {
          if (!fix) continue;
          fixes += 1;
          const plan = changePlan(board.plan, fix.changes);
          const after = checkBoard({ ...board, plan }, today);
          expect(after.map((f) => f.id)).not.toContain(id);
          expect(after.filter((f) => f.severity === 'blocks' && !blocked.has(f.id)).map((f) => f.id)).toEqual(
            [],
          );
          expect(plan.placed.length).toBeGreaterThanOrEqual(board.plan.placed.length);
          for (const change of fix.changes) {
            if ('register' in change) {
              const schema = planShape.registers[change.register as keyof typeof planShape.registers];
              expect(schema.safeParse(change.value).error, fix.words).toBeUndefined();
            } else {
              const entry = plan[change.collection].find((one) => one.id === change.id)!;
              const { id: _id, ...fields } = entry as { id: string };
              const schema = planShape.collections[change.collection as keyof typeof planShape.collections];
              expect(schema.safeParse(fields).error, fix.words).toBeUndefined();
            }
          }
        }
      }),
      { seed: 20270612, numRuns: 20 },
    );
    // The property says nothing when no board has a fix.
    expect(fixes).toBeGreaterThan(100);
  }, 120_000);

  it('findings are the same from run to run, in the order of the song, each with an id of its own', () => {
    fc.assert(
      fc.property(boards, (board) => {
        const found = checkBoard(board, today);
        expect(checkBoard(structuredClone(board), today)).toEqual(found);
        expect(new Set(found.map(({ id }) => id)).size).toBe(found.length);
        const times = found.map(({ place }) => place.floorTime ?? -1);
        expect(times).toEqual([...times].sort((a, b) => a - b));
        for (const { sentence } of found)
          expect(sentence).not.toMatch(/\b(he|she|his|her|him|bride|groom|undefined|NaN)\b/);
      }),
      { seed: 7, numRuns: 8 },
    );
  }, 120_000);
});

describe('rules that somebody may not have run', () => {
  it('are named with the area that is missing, and find nothing', () => {
    const board = { ...boardOf(), lessons: null, answer: null };
    const missing = rulesNotRun(board);
    expect(missing.map(({ rule }) => rule.id)).toEqual(
      expect.arrayContaining(['not-ready', 'too-many-moves', 'dj-not-asked']),
    );
    expect(missing.every(({ rule, missing }) => missing.length > 0 && rule.reads.includes(missing[0]!))).toBe(
      true,
    );
    expect(checkBoard(board, today).some(({ rule }) => rule === 'dj-not-asked')).toBe(false);
    expect(rulesNotRun(boardOf())).toEqual([]);
  });
});
