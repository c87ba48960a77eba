import { readFile } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { Worker } from 'node:worker_threads';
import { context } from 'esbuild';
import { type Spoilt, spoiltWays } from './spoiling.ts';

const root = join(import.meta.dirname, '../..');
const dance = join(root, 'lib/core/dance');
/** The automaton's files. */
export const files = ['automaton', 'dancedThrough', 'mending', 'basicRun', 'stance'] as const;

/** What may be spoilt without anybody noticing, because it changes nothing that is found: the line, what it is spoilt to, and why. */
const ROUNDING = 'between equal and all but equal lies nothing';
const REMEMBERED = 'what is remembered is only found again quicker';
const EQUAL: [line: string, is: string, why: string][] = [
  ['if (before) return before;', 'false', REMEMBERED],
  ['if (known) return known;', 'false', REMEMBERED],
  ['if (known !== undefined) return known;', 'false', REMEMBERED],
  [
    'const known = Array.from({ length: anyFeet + 1 }, () => new Map<number, number>());',
    '2',
    'one list more',
  ],
  ['const next = steps.find(({ at }) => at >= phase - 1e-9);', '>', ROUNDING],
  [
    'const whole = Math.abs(counts / basic.counts - Math.round(counts / basic.counts)) < 1e-9;',
    '<=',
    ROUNDING,
  ],
  [
    'for (let pair = 0; pair < work.length; pair++) if (feet & (1 << pair)) after |= work[pair]!;',
    '<=',
    'there is no fifth pair',
  ],
  ['for (let counts = 0; counts < open.length; counts++) {', '<=', 'one list more, with nothing in it'],
  ['if (done.has(keyOf(stance))) continue;', 'false', 'the same is only followed twice'],
  ['done.add(keyOf(stance));', ';', 'the same is only followed twice'],
  [
    'const rank = (counts: number) => ((gap - counts) % size === 0 ? 0 : counts % bar === 0 ? 1 : 2);',
    '3',
    'last is last',
  ],
  [
    'for (const here of (open[counts] ?? []).sort((a, b) => a.way.length - b.way.length)) {',
    '+',
    'of the links that there are, the fewest come first as it is',
  ],
  ['told.set(move, stances);', ';', REMEMBERED],
  ['known.set(move, work);', ';', REMEMBERED],
  ['read.set(basic, told);', ';', REMEMBERED],
  ['known.set(counts, after);', ';', REMEMBERED],
  ['explored.set(key, all);', ';', REMEMBERED],
  ['before.set(next, way);', ';', REMEMBERED],
];

/** Longer than this, the spoilt automaton goes round and round, ms; unspoilt it takes one or two seconds. */
const LONGEST = 20_000;

export interface Fate extends Spoilt {
  file: string;
  /** What notices; null where nothing does. */
  by: string | null;
  /** Why nothing can notice; empty where something should. */
  equal: string;
}

/** Runs what holds of the automaton on each spoilt one, the file put in place of the real one as all is bundled. */
export async function* spoiltAutomata(wanted: readonly string[] = files): AsyncGenerator<Fate> {
  let put = { path: '', text: '' };
  const bundling = await context({
    stdin: {
      contents: `
        import { parentPort } from 'node:worker_threads';
        import { automatonChecks } from './tests/core/dance/automatonChecks.ts';
        let by = null;
        for (const [name, check] of Object.entries(automatonChecks)) {
          try { check(); } catch { by = name; break; }
        }
        parentPort.postMessage(by);`,
      resolveDir: root,
    },
    ...{ bundle: true, write: false, platform: 'node', format: 'cjs', logLevel: 'silent' },
    plugins: [
      {
        name: 'spoil',
        setup: ({ onLoad }) =>
          onLoad({ filter: /\.ts$/ }, ({ path }) =>
            path === put.path ? { contents: put.text, loader: 'ts' } : undefined,
          ),
      },
    ],
  });
  const noticed = async (): Promise<string | null> => {
    const [built] = (await bundling.rebuild()).outputFiles!;
    return outcomeOf(built!.text);
  };
  try {
    const by = await noticed();
    if (by !== null) throw new Error(`unspoilt, the automaton fails: ${by}`);
    for (const name of wanted) {
      const path = join(dance, `${name}.ts`);
      const source = await readFile(path, 'utf8');
      const lines = source.split('\n');
      for (const spoilt of spoiltWays(source)) {
        const is = lines[spoilt.line - 1]!.trim();
        const equal = EQUAL.find(([line, to]) => line === is && to === spoilt.is)?.[2] ?? '';
        put = { path, text: spoilt.text };
        // What can change nothing is not run.
        const by = equal ? null : await noticed().catch(() => 'it does not even load');
        yield { ...spoilt, file: path.slice(root.length).split(sep).join('/').slice(1), by, equal };
      }
    }
  } finally {
    await bundling.dispose();
  }
}

function outcomeOf(text: string): Promise<string | null> {
  const worker = new Worker(text, { eval: true });
  return new Promise<string | null>((resolve) => {
    const late = setTimeout(() => resolve('it does not end'), LONGEST);
    const end = (by: string | null) => {
      clearTimeout(late);
      resolve(by);
    };
    worker.once('message', end);
    worker.once('error', () => end('it falls over as it loads'));
  }).finally(() => worker.terminate());
}
