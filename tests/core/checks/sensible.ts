import type { Board } from '../../../lib/core/areas/board.ts';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { planWalkOn, usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
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
  nineParts,
  type SongSpec,
} from '../../kit/board.ts';
import { dice } from '../../kit/synth.ts';
import { today } from './boards.ts';

/** Songs as couples bring them, with the figures that an instructor teaches to each and a pose to end on. */
const songs: { spec: SongSpec; basic: string; figures: string[]; pose: string }[] = [
  {
    spec: {},
    basic: 'waltz-box',
    figures: ['waltz-underarm', 'waltz-left-box', 'waltz-balance', 'waltz-progressive'],
    pose: 'lean-three',
  },
  {
    spec: { bpm: 96, lead: 0.8 },
    basic: 'waltz-box',
    figures: ['waltz-underarm', 'waltz-left-box', 'waltz-balance'],
    pose: 'embrace-three',
  },
  {
    spec: { beatsPerBar: 4, bpm: 112, lead: 0.4 },
    basic: 'foxtrot-box',
    figures: ['foxtrot-underarm', 'rumba-open-break', 'rumba-close-in'],
    pose: 'lean-four',
  },
  {
    spec: { beatsPerBar: 4, bpm: 120 },
    basic: 'rumba-box',
    figures: ['foxtrot-underarm', 'rumba-open-break', 'rumba-close-in'],
    pose: 'embrace-four',
  },
];

const pick = <T>(random: () => number, all: readonly T[]): T => all[Math.floor(random() * all.length)]!;
const pressing = (board: Board): number =>
  checkBoard(board, today).filter(({ severity }) => severity !== 'hints').length;
const bars = nineParts.reduce((sum, [, n]) => sum + n, 0);

/**
 * A board as an instructor makes it: the whole song, a fade or a splice on bar lines; a first step where the walk proposes it; the
 * same figure on the same kind of change wherever the checks have nothing against it; a pose on a bar line, with a word before it.
 */
export function sensible(seed: number): Board {
  const random = dice(seed);
  const { spec, basic, figures, pose } = pick(random, songs);
  const at = (bar: number) => barAt(bar, spec);
  const how = pick(random, ['whole', 'fade', 'splice'] as const);
  const last = how === 'fade' ? 86 : bars - 4;
  let board = boardOf(spec, {
    moves: [basic, ...figures, pose].map(libraryMove),
    edit: how === 'whole' ? wholeSong : how === 'fade' ? fadeAt(at(84), 8) : cutOut(at(48), at(88)),
    cues: [8, 24, 32, 48, 72, 96, last - 4].map((bar) => cueAt(`c${bar}`, at(bar), `word ${bar}`)),
    ending: endingOn(at(last), [pose]),
    walkOn: usualWalkOn,
    musicBy: pick(random, ['dj', 'dj', 'friend'] as const),
    lessonsLeft: 6,
    // Long before the day: what is to be handed over has time.
    date: '2027-08-28',
  });
  const put = (changes: PlanChange[]) => {
    const next = { ...board, plan: changePlan(board.plan, changes) };
    if (pressing(next) <= pressing(board)) board = next;
  };
  const score = boardScore(board.plan)!;
  const walk = planWalkOn(board.plan, score);
  if (walk.ok)
    put([
      {
        register: 'walkOn',
        value: { ...usualWalkOn, firstStep: micros(score.counts[walk.value.proposed]!.record) },
      },
    ]);
  const byKind = new Map<string, string>();
  for (const { kind, first, counts } of score.sections) {
    if (counts === 0) continue;
    const figure = byKind.get(kind) ?? pick(random, figures);
    byKind.set(kind, figure);
    const fields = { move: figure, at: micros(score.counts[first]!.record), times: 1 };
    put([{ collection: 'placed', id: `p${first}`, fields }]);
  }
  const floor = { width: 6, depth: 8, surface: 'oak parquet', obstacles: '', guests: '' };
  return { ...board, show: { ...board.show!, floor } };
}

type Disturbance = (board: Board, random: () => number) => PlanChange[];
const placedIn = ({ plan }: Board, random: () => number) => pick(random, plan.placed);
const beatOf = ({ plan: { grid } }: Board) => grid!.beats[1]! - grid!.beats[0]!;
const shiftedBy = (board: Board, at: number, beats: number) =>
  micros(Math.max(0, at + beats * beatOf(board)));

/** What people do to a plan between two lessons. */
const disturbances: Disturbance[] = [
  (board, random) => {
    const entry = placedIn(board, random);
    const beats = pick(random, [-7, -3, -1, 1, 2, 5]);
    return [{ collection: 'placed', id: entry.id, fields: { at: shiftedBy(board, entry.at, beats) } }];
  },
  (board, random) => {
    const entry = placedIn(board, random);
    return [{ collection: 'placed', id: entry.id, fields: { times: pick(random, [2, 3]) } }];
  },
  (board, random) => {
    const figures = board.plan.moves.filter(({ basic, landsOn }) => !basic && landsOn === null);
    return [
      { collection: 'placed', id: placedIn(board, random).id, fields: { move: pick(random, figures).id } },
    ];
  },
  ({ plan }, random) => [
    {
      register: 'walkOn',
      value: { ...plan.walkOn!, metres: pick(random, [14, 22, 35]) },
    },
  ],
  (board, random) => {
    const walkOn = board.plan.walkOn!;
    const firstStep = shiftedBy(board, walkOn.firstStep ?? 0, pick(random, [-9, -2, 1, 5, 30]));
    return [{ register: 'walkOn', value: { ...walkOn, firstStep } }];
  },
  (board, random) => {
    const ending = board.plan.ending!;
    const target = {
      ...ending.target,
      at: shiftedBy(board, ending.target.at, pick(random, [-20, -2, 0.4, 1, 9])),
    };
    return [{ register: 'ending', value: { ...ending, target } }];
  },
  ({ plan }, random) => [
    {
      register: 'ending',
      value: { ...plan.ending!, hold: pick(random, [1, 2, 9]), signal: pick(random, plan.cues).id },
    },
  ],
  (board, random) => {
    const edit = board.plan.edit!;
    if (edit.end.kind === 'fade') {
      const from = shiftedBy(board, edit.end.from, pick(random, [-4, 2, 5]));
      return [{ register: 'edit', value: { ...edit, end: { ...edit.end, from } } }];
    }
    const cuts = edit.cuts.map((cut) => ({ ...cut, to: shiftedBy(board, cut.to, pick(random, [-1, 1, 2])) }));
    return [{ register: 'edit', value: { ...edit, cuts } }];
  },
  ({ plan }, random) => [
    {
      register: 'edit',
      value: { ...plan.edit!, end: fadeAt(plan.grid!.beats.at(-40)!, pick(random, [3, 8, 20])).end },
    },
  ],
  (_, random) => [{ register: 'lessonsLeft', value: pick(random, [0, 1, 2]) }],
  (_, random) => [{ register: 'musicBy', value: pick(random, ['band', 'venue'] as const) }],
  (_, random) => [{ register: 'target', value: { length: pick(random, [150, 180, 200]), within: 15 } }],
];

/** The same board after one to three disturbances. */
export function disturbed(seed: number): Board {
  const random = dice(seed ^ 0x5f3759df);
  let board = sensible(seed);
  for (let i = 1 + Math.floor(random() * 3); i > 0; i--) {
    const disturb = pick(random, disturbances);
    if (board.plan.placed.length === 0) continue;
    board = { ...board, plan: changePlan(board.plan, disturb(board, random)) };
  }
  return board;
}
