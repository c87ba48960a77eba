import fc from 'fast-check';
import type { Board } from '../../lib/core/areas/board.ts';
import { checkBoard } from '../../lib/core/checks/checkBoard.ts';
import { fixAll } from '../../lib/core/checks/settle.ts';
import { ORDER, Standing } from '../../lib/core/checks/standing.ts';
import { table } from '../../server/command/words.ts';
import { boards, fixOnAndOn, today, tryFixes } from '../core/checks/boards.ts';
import { disturbed } from '../core/checks/sensible.ts';

/**
 * `npm run bench:fixes -- [BOARDS] [SEED]`: so many random boards and as many sensible ones, made as an instructor does and then
 * disturbed (500 of each unless said otherwise). Applies every fix by itself, goes on fixing until none is offered, and settles each
 * board together; then tells which rules stand in each other's way: where every fix of a finding adds another as severe.
 */
const [count = 500, seed = 20270612] = process.argv.slice(2).map(Number);
const kinds: Record<string, () => Board[]> = {
  random: () => fc.sample(boards, { numRuns: count, seed }),
  sensible: () => Array.from({ length: count }, (_, i) => disturbed(seed + i)),
};

const quantile = (all: number[], q: number) =>
  [...all].sort((a, b) => a - b)[Math.floor(q * (all.length - 1))]!;
const failures: string[] = [];
/** Findings all of whose fixes add others as severe: which rule's fixes, and which rules they set off. */
const inTheWay = new Map<string, number>();

function note(board: Board): void {
  const standing = Standing.of(board, today);
  for (const { id, rule, severity, fixes } of standing.found) {
    const added = [...fixes()]
      .map(({ changes }) => standing.after(changes))
      .filter(({ gone }) => gone.has(id))
      .map(({ added }) => [...added].filter(([, one]) => ORDER[one] <= ORDER[severity]).map(([of]) => of));
    if (added.length === 0 || added.some((those) => those.length === 0)) continue;
    const others = [...new Set(added.flat().map((of) => of.split(':')[0]!))].sort();
    const pair = `${rule} adds ${others.join(', ')}`;
    inTheWay.set(pair, (inTheWay.get(pair) ?? 0) + 1);
  }
}
const rows: string[][] = [];

for (const [kind, make] of Object.entries(kinds)) {
  const sum = {
    fixes: 0,
    worsen: 0,
    loops: 0,
    presses: 0,
    found: 0,
    offered: 0,
    whole: 0,
    none: 0,
    left: 0,
    steps: 0,
    least: 0,
  };
  const times: number[] = [];
  for (const [i, board] of make().entries()) {
    if (kind === 'sensible') note(board);
    const tried = tryFixes(board);
    sum.fixes += tried.fixes;
    sum.worsen += tried.failures.length;
    failures.push(...tried.failures.map((words) => `${kind} board ${i}: ${words}`));
    const on = fixOnAndOn(board);
    sum.presses += on.presses;
    if (!on.ends) {
      sum.loops += 1;
      failures.push(`${kind} board ${i}: fixing goes on and on`);
    }
    const found = checkBoard(board, today).filter(({ severity }) => severity !== 'hints');
    sum.found += found.length;
    sum.offered += found.filter(({ fix }) => fix !== null).length;
    const began = performance.now();
    const all = fixAll(board, today);
    times.push(performance.now() - began);
    if (found.length === 0) sum.none += 1;
    else if (all.left.length === 0) sum.whole += 1;
    sum.left += all.left.length;
    sum.steps += all.steps.length;
    sum.least += all.isLeast ? 1 : 0;
  }
  rows.push([
    kind,
    ...[
      sum.fixes,
      sum.worsen,
      sum.loops,
      sum.found,
      sum.offered,
      sum.none,
      sum.whole,
      sum.left,
      sum.steps,
      sum.least,
    ].map(String),
    `${quantile(times, 0.5).toFixed(0)} / ${quantile(times, 0.95).toFixed(0)}`,
  ]);
}
for (const [pair, n] of [...inTheWay].sort((a, b) => b[1] - a[1]).slice(0, 12))
  process.stdout.write(`in the way, ${n} times: ${pair}\n`);
process.stdout.write(
  `seed ${seed}, ${count} boards of each kind\n${table([
    [
      'boards',
      'fixes',
      'worsen',
      'loops',
      'block or warn',
      'of them with a fix',
      'boards with none',
      'settled together',
      'left',
      'changes',
      'least',
      'ms p50 / p95',
    ],
    ...rows,
  ])}\n`,
);
for (const words of failures.slice(0, 20)) process.stdout.write(`${words}\n`);
process.exitCode = failures.length > 0 ? 1 : 0;
