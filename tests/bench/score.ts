import { durationOf } from '../../lib/core/signal/samples.ts';
import { wilson } from '../../lib/core/song/calibration.ts';
import { listen } from '../../lib/core/song/listen.ts';
import { annotatedIn, truthOf } from '../../server/command/annotated.ts';
import { songOf } from '../../server/command/files.ts';
import { beatFigures, type Figures, type HeardBeats, meanOf } from '../../server/command/judge.ts';
import { plural, table } from '../../server/command/words.ts';
import { type Other, othersHere } from './others.ts';

/**
 * `npm run bench:score -- FOLDER [FOLDER ...]`: beats, bars and tempo as Larkstep hears them, beside libraries that are not ours, on the same
 * songs in the same call. Those are needed to build only, so this is no verb of the command. Never part of the tests.
 */
const folders = process.argv.slice(2);
if (folders.length === 0) {
  process.stderr.write('use: npm run bench:score -- FOLDER [FOLDER ...]\n');
  process.exit(2);
}

const ours: Other = {
  name: 'larkstep',
  async hear(samples) {
    const heard = listen(samples);
    return heard.ok ? heard.value : { beats: [], bars: [], tempo: 0 };
  },
};

const NOTHING: HeardBeats = { beats: [], tempo: 0 };
const COLUMNS = ['beatF', 'amlt', 'downbeatF', 'tempo1', 'tempo2'] as const;
type Judged = Figures & { seconds: number };

const { others, missing } = await othersHere();
for (const word of missing) process.stderr.write(`left out: ${word.split('\n')[0]}\n`);
const tools = [ours, ...others];
const songs = await annotatedIn(folders);
const judged: Judged[][] = [];
for (const [i, song] of songs.entries()) {
  process.stderr.write(`${i + 1} of ${songs.length}: ${song.folder}/${song.name}\n`);
  const truth = await truthOf(song);
  const { samples } = await songOf(song.path);
  const row: Judged[] = [];
  for (const tool of tools) {
    const began = performance.now();
    // A library that fails on a song has heard nothing.
    const heard = await tool.hear(samples, song.path).catch(() => NOTHING);
    const seconds = (performance.now() - began) / 1000 / (durationOf(samples) / 60);
    row.push({ ...beatFigures(truth, heard), seconds });
  }
  judged.push(row);
}

const shown = (x: number | undefined): string => x?.toFixed(3) ?? '-';
process.stdout.write(
  `${table([
    ['beat F / AMLt', ...tools.map(({ name }) => name)],
    ...songs.map((song, i) => [
      `${song.folder}/${song.name}`,
      ...judged[i]!.map(({ beatF, amlt }) => `${shown(beatF)} / ${shown(amlt)}`),
    ]),
  ])}\n\n`,
);
process.stdout.write(
  `${table([
    [plural(songs.length, 'song'), ...COLUMNS, 'tempo1, 90 %', 's/min'],
    ...tools.map(({ name }, t) => {
      const mean = meanOf(
        [...COLUMNS, 'seconds'],
        judged.map((row) => row[t]!),
      );
      const range = wilson(mean.tempo1!, songs.length).map((edge) => edge.toFixed(3));
      return [name, ...COLUMNS.map((column) => shown(mean[column])), range.join(' to '), shown(mean.seconds)];
    }),
  ])}\n`,
);
