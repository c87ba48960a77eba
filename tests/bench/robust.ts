import { parseArgs } from 'node:util';
import type { Samples } from '../../lib/core/signal/samples.ts';
import { listen } from '../../lib/core/song/listen.ts';
import { annotatedIn, truthOf } from '../../server/command/annotated.ts';
import { songOf } from '../../server/command/files.ts';
import { FIGURES, type Figures, figuresOf, meanOf } from '../../server/command/judge.ts';
import { plural, table } from '../../server/command/words.ts';
import { inRoom, spokenOver, throughMp3 } from './worn.ts';

/**
 * `npm run bench:robust -- FOLDER [FOLDER ...] [--voice WAV] [--songs N]`: annotated songs (the first N) as they are, with a room's
 * echo, through an MP3 of 96 kbit/s, and under a speaking voice. A line for each as soon as it is heard; at the end the means, and how
 * far they are from the songs as they are. Needs ffmpeg. The bar: no mean falls by more than .03. Never part of the tests.
 */
const { values, positionals } = parseArgs({
  options: { voice: { type: 'string' }, songs: { type: 'string' } },
  allowPositionals: true,
});
const most = Number(values.songs ?? Number.POSITIVE_INFINITY);
if (positionals.length === 0 || !(most >= 1)) {
  process.stderr.write('use: npm run bench:robust -- FOLDER [FOLDER ...] [--voice WAV] [--songs N]\n');
  process.exit(2);
}
const voice = values.voice === undefined ? null : (await songOf(values.voice)).samples;

/** One after another: a song is held in two forms at most. */
const ways: [string, (song: Samples, path: string) => Samples | Promise<Samples>][] = [
  ['as it is', (song) => song],
  ['in a room', (song) => inRoom(song)],
  ['MP3 96', (_, path) => throughMp3(path)],
];
if (voice) ways.push(['voice', (song) => spokenOver(song, voice)]);

const songs = (await annotatedIn(positionals)).slice(0, most);
const rows: Figures[][] = ways.map(() => []);
for (const annotated of songs) {
  const truth = await truthOf(annotated);
  const { samples } = await songOf(annotated.path);
  for (const [w, [way, wear]] of ways.entries()) {
    const heard = listen(await wear(samples, annotated.path));
    const figures = figuresOf(truth, heard.ok ? heard.value : null);
    rows[w]!.push(figures);
    const words = FIGURES.flatMap((name) =>
      figures[name] === undefined ? [] : `${name} ${figures[name].toFixed(2)}`,
    );
    process.stdout.write(`${annotated.folder}/${annotated.name} ${way.padEnd(9)} ${words.join('  ')}\n`);
  }
}
process.stdout.write('\n');

const means = rows.map((figures) => meanOf(FIGURES, figures));
const shown = FIGURES.filter((figure) => means[0]![figure] !== undefined);
const signed = (x: number): string => (x >= 0 ? '+' : '') + x.toFixed(3);
process.stdout.write(
  `${table([
    [plural(songs.length, 'song'), ...shown],
    ...means.flatMap((mean, w) => {
      const row = [ways[w]![0], ...shown.map((figure) => mean[figure]!.toFixed(3))];
      if (w === 0) return [row];
      return [row, ['', ...shown.map((figure) => signed(mean[figure]! - means[0]![figure]!))]];
    }),
  ])}\n`,
);
