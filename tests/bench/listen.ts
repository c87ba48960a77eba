import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import MusicTempo from 'music-tempo';
import { usualPhraseBars } from '../../lib/core/areas/score.ts';
import { imprintOf } from '../../lib/core/compare/imprint.ts';
import { shape, USUAL_WISHES } from '../../lib/core/edit/propose.ts';
import { Spectrum } from '../../lib/core/signal/fft.ts';
import { mixdown, type Samples } from '../../lib/core/signal/samples.ts';
import { hann } from '../../lib/core/signal/window.ts';
import { gridFrom } from '../../lib/core/song/correct.ts';
import { listen } from '../../lib/core/song/listen.ts';
import { wholeMicros } from '../../lib/core/units.ts';
import { songOf } from '../../server/command/files.ts';
import { table } from '../../server/command/words.ts';

/**
 * `npm run bench -- FOLDER`: seconds of processor time a minute of song for each step, and each as a ratio to a plain pass of Fourier transforms
 * over the same samples in the same run, so that a busy or slow computer does not decide what is said; a beat tracker that is not ours
 * (music-tempo, Dixon 2001) beside it. Each step is done three times and the least counts: other work on the computer only ever adds.
 * What one step left to be collected is collected before the next is timed, once and with compiled code kept (--no-flush-bytecode):
 * after so many collections the engine would else compile the same again and again. Never part of the tests.
 */
const folder = process.argv[2];
if (folder === undefined) {
  process.stderr.write('use: npm run bench -- FOLDER, a folder of songs\n');
  process.exit(2);
}

const TIMES = 3;

async function timed<T>(work: () => T | Promise<T>): Promise<{ value: T; seconds: number }> {
  let least = Number.POSITIVE_INFINITY;
  globalThis.gc?.();
  for (let k = 1; ; k++) {
    const began = process.cpuUsage();
    const value = await work();
    const { user, system } = process.cpuUsage(began);
    least = Math.min(least, (user + system) / 1e6);
    if (k === TIMES) return { value, seconds: least };
  }
}

/** The yardstick: 2,048 samples a transform, half of them new. */
function plainPass(samples: Samples): number {
  const size = 2048;
  const spectrum = new Spectrum(size, hann(size));
  const power = new Float32Array(size / 2 + 1);
  const mono = mixdown(samples);
  for (let at = 0; at < mono.length; at += size / 2) spectrum.powers(mono, at, power);
  return power[0]!;
}

const steps = ['decode', 'plain pass', 'listen', 'music-tempo', 'imprint', 'shape'] as const;
const rows: number[][] = [];
const names = (await readdir(folder)).filter((name) => /\.(wav|mp3|flac|ogg|opus|m4a)$/i.test(name)).sort();
for (const name of names) {
  const song = await timed(() => songOf(join(folder, name)));
  const { samples, duration } = song.value;
  const pass = await timed(() => plainPass(samples));
  const heard = await timed(() => listen(samples));
  const other = await timed(() => new MusicTempo(mixdown(samples)).tempo);
  const imprint = await timed(() => imprintOf(samples));
  const shaped = await timed(() => {
    if (!heard.value.ok) return [];
    const { value } = heard.value;
    const grid = gridFrom(value);
    const sections = value.sections.map(({ start, kind, like }, i) => ({
      ...{ id: `s${i}`, start, kind, like, name: '', phraseBars: null, confirmedBy: null },
    }));
    const plan = {
      ...{ grid, sections, phraseBars: usualPhraseBars(grid), duration: wholeMicros(duration) },
      lastSound: value.lastSound,
    };
    return shape({ plan, features: value.features, samples }, USUAL_WISHES);
  });
  rows.push([song, pass, heard, other, imprint, shaped].map(({ seconds }) => seconds / (duration / 60)));
}
if (rows.length === 0) {
  process.stderr.write(`${folder}: no songs here\n`);
  process.exit(2);
}
const mean = steps.map((_, i) => rows.reduce((sum, row) => sum + row[i]!, 0) / rows.length);
const print = (name: string, values: number[]): string[] => [name, ...values.map((x) => x.toFixed(3))];
process.stdout.write(
  `${table([
    ['seconds a minute of song', ...steps],
    ...rows.map((row, i) => print(names[i]!, row)),
    print('mean', mean),
    print(
      'times a plain pass',
      mean.map((x) => x / mean[1]!),
    ),
  ])}\n`,
);
