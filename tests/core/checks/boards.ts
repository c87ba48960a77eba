import fc from 'fast-check';
import type { Board } from '../../../lib/core/areas/board.ts';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { planShape } from '../../../lib/core/areas/plan.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import type { Finding } from '../../../lib/core/checks/finding.ts';
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

/** The day on which random boards are checked. */
export const today = '2027-06-01';
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
export const boards: fc.Arbitrary<Board> = fc
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

const LEVELS = ['blocks', 'warns', 'hints'] as const;
/** So many findings of each severity, the most severe first: the measure that fixing lowers. */
const measureOf = (found: readonly Finding[]): number[] =>
  LEVELS.map((level) => found.filter(({ severity }) => severity === level).length);
const isLower = (a: readonly number[], b: readonly number[]): boolean => {
  const i = a.findIndex((figure, k) => figure !== b[k]);
  return i >= 0 && a[i]! < b[i]!;
};

/** Applies each fix of a board's findings by itself: how many there are, and a sentence for each that does not hold. */
export function tryFixes(board: Board): { fixes: number; failures: string[] } {
  const found = checkBoard(board, today);
  const was = new Map(found.map(({ id, severity }) => [id, LEVELS.indexOf(severity)]));
  let fixes = 0;
  const failures: string[] = [];
  for (const { id, severity, fix } of found) {
    if (!fix) continue;
    fixes += 1;
    const fails = (why: string) => failures.push(`${id}, “${fix.words}”: ${why}`);
    const plan = changePlan(board.plan, fix.changes);
    const after = checkBoard({ ...board, plan }, today);
    if (after.some((finding) => finding.id === id)) fails('its finding is still there');
    const added = after.filter((f) => LEVELS.indexOf(f.severity) < (was.get(f.id) ?? LEVELS.length));
    const severe = added.filter((f) => LEVELS.indexOf(f.severity) <= LEVELS.indexOf(severity));
    if (severe.length > 0) fails(`adds ${severe.map((f) => f.id).join(', ')}`);
    if (!isLower(measureOf(after), measureOf(found))) fails('the measure does not fall');
    // Taking a move away would end almost any finding, and help nobody.
    if (plan.placed.length < board.plan.placed.length) fails('takes a move away');
    for (const change of fix.changes) {
      if (!isAccepted(plan, change)) fails('its area refuses the change');
    }
  }
  return { fixes, failures };
}

/** Presses the first fix that is offered, again and again, until none is: how often, and whether that ended. */
export function fixOnAndOn(board: Board, most = 60): { presses: number; ends: boolean; board: Board } {
  let now = board;
  const seen = new Set<string>();
  for (let presses = 0; presses < most; presses++) {
    const key = JSON.stringify([now.plan.placed, now.plan.ending, now.plan.walkOn, now.plan.edit]);
    const fix = checkBoard(now, today).find((finding) => finding.fix !== null)?.fix;
    if (!fix) return { presses, ends: true, board: now };
    if (seen.has(key)) return { presses, ends: false, board: now };
    seen.add(key);
    now = { ...now, plan: changePlan(now.plan, fix.changes) };
  }
  return { presses: most, ends: false, board: now };
}

function isAccepted(plan: Board['plan'], change: PlanChange): boolean {
  if ('register' in change) {
    const schema = planShape.registers[change.register as keyof typeof planShape.registers];
    return schema.safeParse(change.value).success;
  }
  const { id: _id, ...fields } = plan[change.collection].find((one) => one.id === change.id) as {
    id: string;
  };
  return planShape.collections[change.collection as keyof typeof planShape.collections].safeParse(fields)
    .success;
}
