import { boardScore } from '../../lib/core/areas/score.ts';
import { checkBoard } from '../../lib/core/checks/checkBoard.ts';
import { proposeDances } from '../../lib/core/dance/proposeDance.ts';
import { table } from '../../server/command/words.ts';
import { longBoard } from './boards.ts';

/**
 * `npm run bench:dance`: milliseconds for all checks over a song of six minutes with 60 placed moves, over two, four and eight times as
 * much, and for a proposal of a whole dance; each beside a plain copy of the same board (to JSON and back) in the same run, so
 * that a busy or slow computer does not decide what is said. Never part of the tests.
 */
const today = '2027-01-01';
const RUNS = 41;

const work = {
  // Once a board is copied nothing is known of its song yet: the frames are decoded and the song's own steps measured.
  'first check': (board: Board) => void checkBoard(board, today),
  checks: (board: Board) => void checkBoard(board, today),
  'checks and every fix': (board: Board) => void checkBoard(board, today).map(({ fix }) => fix),
  'plain copy': (board: Board) => void JSON.parse(JSON.stringify(board)),
};
type Board = ReturnType<typeof longBoard>;
type Name = keyof typeof work;

/** Medians in turns, so that all suffer alike from whatever else runs. */
function medians(board: Board, runs = RUNS): Record<Name, number> {
  const names = Object.keys(work) as Name[];
  const times = new Map<Name, number[]>(names.map((name) => [name, []]));
  for (let run = -10; run < runs; run++) {
    for (const name of names) {
      if (name === 'checks and every fix' && (run < 0 || run > 4)) continue;
      const on = name === 'first check' ? structuredClone(board) : board;
      const began = performance.now();
      work[name](on);
      if (run >= 0) times.get(name)!.push(performance.now() - began);
    }
  }
  const middle = (all: number[]) => all.sort((a, b) => a - b)[all.length >> 1]!;
  return Object.fromEntries(names.map((name) => [name, middle(times.get(name)!)])) as Record<Name, number>;
}

const sizes = [1, 2, 4, 8];
// The first round warms the code up for all sizes alike.
for (const times of sizes) medians(longBoard(times), 1);
const measured = sizes.map((times) => medians(longBoard(times)));
const row = (name: Name): string[] => {
  const ms = measured.map((medians) => medians[name]);
  return [
    name,
    ...ms.map((x) => x.toFixed(2)),
    ...ms.slice(1).map((x) => (x / ms[0]!).toFixed(2)),
    ...measured.map((medians) => (medians[name] / medians['plain copy']).toFixed(1)),
  ];
};

/** Milliseconds for a dance proposed from nothing, the slowest of nine. */
function proposal(): string {
  const { plan } = longBoard(1);
  const all = Array.from({ length: 9 }, () => {
    const began = performance.now();
    proposeDances({ ...plan, placed: [] }, boardScore(plan)!);
    return performance.now() - began;
  });
  return `a dance proposed for the six minutes: the slowest of nine ${Math.max(...all).toFixed(1)} ms`;
}

const found = sizes.map((times) => checkBoard(longBoard(times), today));
process.stdout.write(
  `${table([
    [
      'median, ms',
      ...sizes.map((times) => `${60 * times} moves`),
      ...sizes.slice(1).map((times) => `${times}x to 1x`),
      ...sizes.map((times) => `copies at ${times}x`),
    ],
    ...(Object.keys(work) as Name[]).map(row),
    ['findings', ...found.map((all) => String(all.length))],
    ['of them with a fix', ...found.map((all) => String(all.filter(({ fix }) => fix).length))],
  ])}\n${proposal()}\n`,
);
