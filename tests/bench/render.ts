import { execFileSync } from 'node:child_process';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { compileEdit } from '../../lib/core/edit/compile.ts';
import { mixdown } from '../../lib/core/signal/samples.ts';
import { songOf } from '../../server/command/files.ts';
import { table } from '../../server/command/words.ts';
import { usualEdit, write } from './rendered.ts';

/**
 * `npm run bench:render -- FOLDER`: seconds that three minutes take to become a WAV and an MP3, song by song, in seconds and as so
 * many times a plain pass over the same samples, since machines differ; and the memory taken besides the decoded samples. Songs
 * shorter than three minutes are measured as they are and set in proportion. Never part of the tests.
 */
const folder = process.argv[2];
if (folder === undefined) {
  process.stderr.write('use: npm run bench:render -- FOLDER, a folder of songs\n');
  process.exit(2);
}
const THREE_MINUTES = 180;

async function seconds(work: () => unknown): Promise<number> {
  const began = performance.now();
  await work();
  return (performance.now() - began) / 1000;
}

/** A process of its own for each file: a peak never falls. */
function memory(song: string, file: string): { samples: number; decoding: number; all: number } {
  const script = join(import.meta.dirname, 'rendered.ts');
  return JSON.parse(
    execFileSync(process.execPath, ['--import', 'tsx', script, song, file], { encoding: 'utf8' }),
  );
}

const place = await mkdtemp(join(tmpdir(), 'larkstep-bench-'));
const [wav, mp3] = [join(place, 'out.wav'), join(place, 'out.mp3')];
const times: string[][] = [];
const megabytes: string[][] = [];
const names = (await readdir(folder)).filter((name) => /\.(wav|mp3|flac|ogg|opus)$/i.test(name)).sort();
for (const name of names) {
  const path = join(folder, name);
  const { samples, duration } = await songOf(path);
  const edit = usualEdit(duration, 1);
  const share = THREE_MINUTES / compileEdit(edit, { duration }).length;
  const pass = (await seconds(() => mixdown(samples))) * (THREE_MINUTES / duration);
  const steps = [
    share * (await seconds(() => write(wav, samples, edit))),
    share * (await seconds(() => write(mp3, samples, edit))),
    share * (await seconds(() => write(wav, samples, { ...edit, speed: 0.95 }))),
  ];
  times.push([
    name,
    ...[pass, ...steps].map((s) => s.toFixed(2)),
    ...steps.map((s) => (s / pass).toFixed(0)),
  ]);
  const kinds = [memory(path, wav), memory(path, mp3)];
  const [{ samples: own, decoding }] = kinds as [(typeof kinds)[0]];
  megabytes.push([name, ...[own, decoding, ...kinds.map(({ all }) => all)].map((mb) => mb.toFixed(0))]);
}
await rm(place, { recursive: true });
const timeHead = [
  's for 3 minutes',
  'plain pass',
  'WAV',
  'MP3',
  'WAV at 0.95',
  'WAV, passes',
  'MP3',
  'at 0.95',
];
const memoryHead = ['MB', 'samples', 'more in decoding', 'more with the WAV', 'more with the MP3'];
process.stdout.write(`${table([timeHead, ...times])}\n\n${table([memoryHead, ...megabytes])}\n`);
