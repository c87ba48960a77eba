import fc from 'fast-check';
import type { Board } from '../../lib/core/areas/board.ts';
import { changePlan } from '../../lib/core/areas/change.ts';
import { boardScore } from '../../lib/core/areas/score.ts';
import { checkBoard } from '../../lib/core/checks/checkBoard.ts';
import { basicOf, wholeDance } from '../../lib/core/dance/basics.ts';
import { type Break, dancedThrough } from '../../lib/core/dance/dancedThrough.ts';
import { standardMoves } from '../../lib/core/dance/library/standard.ts';
import { type Proposed, proposing, type Wishes } from '../../lib/core/dance/proposeDance.ts';
import { planWalkOn, usualWalkOn } from '../../lib/core/dance/walkOn.ts';
import type { SectionKind } from '../../lib/core/song/section.ts';
import { boards } from '../core/checks/boards.ts';
import { barAt, boardOf, endingOn, libraryMove, nineParts, type SongSpec } from '../kit/board.ts';

/**
 * `npm run bench:proposals -- [BOARDS] [SEED]`: proposes dances for so many random boards and as many sensible ones, 500 unless said
 * otherwise, and says how many of the proposed dances the automaton refuses or the checks would block; and milliseconds for a
 * proposal: all boards, and eight moves on twelve parts.
 */
const [count = 500, seed = 20270612] = process.argv.slice(2).map(Number);
const today = '2027-06-01';

const dances = [...new Set(standardMoves.map(({ dance }) => dance))].filter((name) => name !== 'own');
const songs: Record<3 | 4, SongSpec[]> = {
  3: [{}, { bpm: 84 }, { bpm: 100, form: nineParts.map(([kind, bars]) => [kind, bars === 16 ? 12 : bars]) }],
  4: [
    { beatsPerBar: 4, bpm: 112 },
    { beatsPerBar: 4, bpm: 90 },
    { beatsPerBar: 4, bpm: 104, form: nineParts.map(([kind, bars]) => [kind, bars / 2]) },
  ],
};

/** As an instructor would begin: one dance with its basic, some of its figures, a closing pose on the last bar line, a walk-on. */
const sensible: fc.Arbitrary<{ board: Board; wishes: Wishes }> = fc
  .record({
    dance: fc.constantFrom(...dances),
    song: fc.nat(2),
    pick: fc.uniqueArray(fc.nat(11), { minLength: 2, maxLength: 8 }),
    known: fc.array(fc.constantFrom(0, 1, 2, 3), { minLength: 12, maxLength: 12 }),
    lessonsLeft: fc.option(fc.integer({ min: 1, max: 8 })),
    across: fc.option(fc.integer({ min: 3, max: 8 })),
  })
  .map(({ dance, song, pick, known, lessonsLeft, across }) => {
    const all = standardMoves.filter((move) => move.dance === dance);
    const metre = all[0]!.metre === 3 ? 3 : 4;
    const spec = songs[metre][song]!;
    const figures = all.filter((move) => !move.basic && move.metre === metre);
    const chosen = pick
      .map((n) => figures[n % figures.length]!)
      .filter((move, i, them) => them.indexOf(move) === i);
    const basic = all.find((move) => move.basic && move.metre === metre)!;
    const pose = libraryMove(metre === 3 ? 'lean-three' : 'lean-four');
    const bars = (spec.form ?? nineParts).reduce((sum, [, n]) => sum + n, 0);
    const board = boardOf(spec, {
      moves: [basic, ...chosen, pose],
      walkOn: { ...usualWalkOn, metres: 6 },
      ending: endingOn(barAt(bars - 1, spec), [pose.id]),
      lessonsLeft,
    });
    const readiness = [...chosen, pose].map(({ id }, i) => ({ id, level: known[i]! as 0 | 1 | 2 | 3 }));
    const at = '2027-05-01T10:00:00.000Z' as const;
    const lessons = { ...board.lessons!, readiness: readiness.map((one) => ({ ...one, at })) };
    return { board: { ...board, lessons }, wishes: { lessonsLeft, across, readiness } };
  });

const random = boards.map((board) => ({
  board: { ...board, plan: { ...board.plan, placed: [] } },
  wishes: {
    lessonsLeft: board.plan.lessonsLeft,
    across: Math.min(board.show!.floor!.width, board.show!.floor!.depth),
  },
}));

interface Tally {
  boards: number;
  dances: number;
  exact: number;
  three: number;
  refused: number;
  blocked: number;
  warned: Map<string, number>;
  times: number[];
}

function breaksOf({ plan }: Board): Break[] {
  const score = boardScore(plan)!;
  const walk = planWalkOn(plan, score);
  const first = walk.ok ? walk.value.firstStep : 0;
  return dancedThrough({ grid: plan.grid!, basic: basicOf(plan), first, laid: wholeDance(plan, score) })
    .breaks;
}

function run(from: fc.Arbitrary<{ board: Board; wishes: Wishes }>): Tally {
  const tally: Tally = {
    ...{ boards: 0, dances: 0, exact: 0, three: 0, refused: 0, blocked: 0 },
    ...{ warned: new Map(), times: [] },
  };
  for (const { board, wishes } of fc.sample(from, { numRuns: count, seed })) {
    const began = performance.now();
    const proposed = proposedAt(board, wishes);
    tally.times.push(performance.now() - began);
    tally.boards += 1;
    tally.dances += proposed.dances.length;
    tally.three += proposed.dances.length === 3 ? 1 : 0;
    const before = new Set(checkBoard(board, today).map(({ id }) => id));
    for (const { changes, exact } of proposed.dances) {
      const after = { ...board, plan: changePlan(board.plan, changes) };
      tally.exact += exact ? 1 : 0;
      tally.refused += breaksOf(after).length > 0 ? 1 : 0;
      const found = checkBoard(after, today).filter(({ id }) => !before.has(id));
      tally.blocked += found.some(({ severity }) => severity === 'blocks') ? 1 : 0;
      for (const { rule, severity } of found)
        if (severity === 'warns') tally.warned.set(rule, (tally.warned.get(rule) ?? 0) + 1);
    }
  }
  return tally;
}

function proposedAt({ plan }: Board, wishes: Wishes): Proposed {
  const steps = proposing(plan, boardScore(plan)!, wishes);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

const say = (name: string, { boards, dances, exact, three, refused, blocked, warned, times }: Tally) => {
  const sorted = times.toSorted((a, b) => a - b);
  process.stdout.write(
    `${name}: ${boards} boards, ${dances} dances (${three} boards have three, ${exact} dances are the best of all); ${refused} refused by the automaton, ${blocked} with a new finding that blocks; new warnings: ${[...warned].map(([rule, n]) => `${rule} ${n}`).join(', ') || 'none'}; a board's proposals: median ${sorted[sorted.length >> 1]!.toFixed(0)} ms, slowest ${sorted.at(-1)!.toFixed(0)} ms\n`,
  );
};

say('random', run(random));
say('sensible', run(sensible));

const twelve: [SectionKind, number][] = (
  [
    'intro',
    'verse',
    'pre-chorus',
    'chorus',
    'verse',
    'pre-chorus',
    'chorus',
    'bridge',
    'chorus',
    'verse',
    'chorus',
    'outro',
  ] as const
).map((kind) => [kind, 16]);
for (const dance of ['waltz', 'foxtrot', 'rumba'] as const) {
  const all = standardMoves.filter((move) => move.dance === dance);
  const figures = all.filter((move) => !move.basic).slice(0, 8);
  const metre = all[0]!.metre === 3 ? 3 : 4;
  const spec: SongSpec = { beatsPerBar: metre, bpm: metre === 3 ? 90 : 116, form: twelve };
  const { plan } = boardOf(spec, {
    moves: [
      ...all.filter(({ basic }) => basic),
      ...figures,
      libraryMove(metre === 3 ? 'lean-three' : 'lean-four'),
    ],
    ending: endingOn(barAt(190, spec), [metre === 3 ? 'lean-three' : 'lean-four']),
  });
  const times = Array.from({ length: 9 }, () => {
    const began = performance.now();
    proposedAt({ plan } as Board, {});
    return performance.now() - began;
  });
  process.stdout.write(
    `${figures.length} moves of ${dance} on twelve parts of two phrases: median of nine ${times.toSorted((a, b) => a - b)[4]!.toFixed(0)} ms, slowest ${Math.max(...times).toFixed(0)} ms\n`,
  );
}
