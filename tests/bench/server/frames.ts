import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Process, startOurs } from './children.ts';
import { Crowd } from './crowd.ts';
import { judge, load, printTable, quantile } from './figures.ts';
import type { Answers, Attack, Victims } from './forger.ts';
import { Light, type Seat } from './light.ts';
import type { Words } from './words.ts';

/** Frames that nobody honest sends, at one board, while people edit others: quiet and under attack by turns. */
export async function frames(words: Words): Promise<void> {
  const boards = words.boards ?? 20;
  const count = words.count ?? 10_000;
  const rounds = words.rounds ?? 5;
  const rate = words.edits ?? 200;
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
  const roles = ['couple', 'instructor', 'dj'] as const;
  const ours = await startOurs({ folder, boards: boards + 1, whole: true, roles });
  const forger = new Process('forger.ts');
  try {
    const seat = (index: number, role: (typeof roles)[number]): Seat => {
      const { id, cookies } = ours.boards[index]!;
      return { address: ours.address, board: id, area: 'plan', role, cookie: cookies[role]! };
    };
    const crowd = await Crowd.open(
      Array.from({ length: boards }, (_, index) => [0, 1, 2, 3].map(() => seat(index, 'couple'))).flat(),
    );
    await forger.next({
      member: seat(boards, 'couple'),
      other: seat(boards, 'instructor'),
      reader: seat(boards, 'dj'),
    } satisfies Victims);
    const each = Math.ceil(count / rounds);
    const seconds = each / rate;
    const quiet: number[] = [];
    const attacked: number[] = [];
    const answers: Answers = {};
    const edit = async (into: number[], during: () => Promise<Answers>) => {
      const sending = during();
      into.push(...(await crowd.edit(crowd.people, 2, seconds, sending)).latencies);
      for (const [kind, { right, wrong }] of Object.entries(await sending)) {
        answers[kind] ??= { right: 0, wrong: [] };
        answers[kind].right += right;
        answers[kind].wrong.push(...wrong);
      }
    };
    await crowd.edit(crowd.people, 2, 2);
    let sending = 0;
    for (let round = 0; round < rounds; round++) {
      await edit(quiet, async () => ({}));
      await edit(attacked, async () => {
        const began = performance.now();
        const of = await forger.next<Answers>({ count: each, rate } satisfies Attack);
        sending += performance.now() - began;
        return of;
      });
    }
    const after = await Light.open(seat(boards, 'couple'));
    process.stdout.write(
      `${each * rounds} forged frames, ${rate} a second tried and ${((each * rounds) / (sending / 1000)).toFixed(0)} let in, beside ${boards} boards of 4 people x 2 edits/s, ${load()}\n`,
    );
    printTable([
      ['kind', 'right code', 'other codes'],
      ...Object.entries(answers).map(([kind, { right, wrong }]) => [
        ...[kind, right, wrong.length === 0 ? 0 : `${wrong.length}: ${[...new Set(wrong)].join(' ')}`],
      ]),
    ]);
    printTable([
      ['other rooms', 'seen', 'p50 ms', 'p99 ms'],
      ['quiet', quiet.length, quantile(quiet, 0.5), quantile(quiet, 0.99)],
      ['attacked', attacked.length, quantile(attacked, 0.5), quantile(attacked, 0.99)],
    ]);
    const wrong = Object.values(answers).reduce((sum, answer) => sum + answer.wrong.length, 0);
    judge(`every sender is closed with the right code (${wrong} were not)`, wrong === 0);
    judge('the attacked board still opens', after instanceof Light);
    judge(`nobody else is closed (${[...crowd.refused]})`, crowd.refused.size === 0);
    const [calm, under] = [quantile(quiet, 0.99), quantile(attacked, 0.99)];
    judge(`p99 of the others ${under.toFixed(1)} <= 2 x ${calm.toFixed(1)} ms`, under <= 2 * calm);
  } finally {
    await Promise.all([ours.kill(), forger.kill()]);
    await rm(folder, { recursive: true });
  }
}
