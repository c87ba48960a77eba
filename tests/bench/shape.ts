import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Spectrum } from '../../lib/core/signal/fft.ts';
import { mixdown, type Samples } from '../../lib/core/signal/samples.ts';
import { median, quantile } from '../../lib/core/signal/statistics.ts';
import { hann } from '../../lib/core/signal/window.ts';
import { parseBeats } from '../../lib/core/song/annotation.ts';
import { wilson } from '../../lib/core/song/calibration.ts';
import { type Listening, listen } from '../../lib/core/song/listen.ts';
import { type Annotated, annotatedIn, truthOf } from '../../server/command/annotated.ts';
import { songOf, textOf } from '../../server/command/files.ts';
import { table } from '../../server/command/words.ts';
import { need } from '../../server/command/wrong.ts';
import { givenPlan, heardPlan, type Judged, judge, practiceOf } from './shaped.ts';

/**
 * `npm run bench:shape -- [--heard FOLDER] FOLDER [FOLDER ...]`: the edits proposed for songs of nine parts, with the program's own
 * listening and with a person's beats and sections, held against what is true of each song. With `--heard` what was heard is kept
 * in that folder, so that shaping alone can be measured again. Never part of the tests.
 */
const words = process.argv.slice(2);
const kept = words[0] === '--heard' ? words.splice(0, 2)[1] : undefined;
if (words.length === 0) {
  process.stderr.write(
    'use: npm run bench:shape -- [--heard FOLDER] FOLDER [FOLDER ...], folders of annotated songs\n',
  );
  process.exit(2);
}

async function heardIn({ folder, name }: Annotated, samples: Samples): Promise<Listening | null> {
  const file = kept && join(kept, `${folder}-${name}.json`);
  const before = file && (await readFile(file, 'utf8').catch(() => null));
  if (before) return JSON.parse(before);
  const heard = listen(samples);
  const value = heard.ok ? heard.value : null;
  if (file) {
    await mkdir(kept, { recursive: true });
    await writeFile(file, JSON.stringify(value));
  }
  return value;
}

/** The yardstick, milliseconds: transforms over the whole song, 2,048 samples each, half of them new. */
function plainPass(samples: Samples): number {
  const began = performance.now();
  const size = 2048;
  const spectrum = new Spectrum(size, hann(size));
  const power = new Float32Array(size / 2 + 1);
  const mono = mixdown(samples);
  for (let at = 0; at < mono.length; at += size / 2) spectrum.powers(mono, at, power);
  return performance.now() - began;
}

interface Row {
  folder: string;
  name: string;
  own: Judged | null;
  given: Judged | null;
  pass: number;
}

const rows: Row[] = [];
for (const song of await annotatedIn(words)) {
  const { beats, downbeats, sections } = await truthOf(song);
  const { positions } = need(parseBeats(await textOf(song.path.replace(/\.\w+$/, '.beats'))), song.name);
  const truth = { beats, positions, bars: downbeats, sections };
  const practice = practiceOf(truth);
  if (!practice) continue;
  const { samples } = await songOf(song.path);
  const heard = await heardIn(song, samples);
  const by = (planOf: typeof givenPlan) =>
    heard && judge(planOf(heard, samples, truth), heard, samples, truth, practice, planOf === heardPlan);
  rows.push({
    folder: song.folder,
    name: song.name,
    own: by(heardPlan),
    given: by(givenPlan),
    pass: plainPass(samples),
  });
  process.stderr.write(`${rows.length}: ${song.folder}/${song.name}\n`);
}

const place = (at: number | undefined): string => (at === undefined || at < 0 ? '-' : String(at + 1));
const ms = (x: number | null | undefined): string => x?.toFixed(1) ?? '-';
const yes = (x: boolean | undefined): string => (x ? 'yes' : 'NO');
process.stdout.write(
  `${table([
    [
      'song',
      'fade is',
      'splice is',
      'on bars',
      'on sections',
      'seam, ms',
      'said',
      'step',
      'burst, dB',
      'given: first',
      'ms',
    ],
    ...rows.map(({ folder, name, own, given }) => [
      `${folder}/${name}`,
      ...[place(own?.fadeAt), place(own?.spliceAt), yes(own?.onBars), yes(own?.onSections)],
      ...[ms(own?.seam?.error), ms(own?.seam?.said), own?.seam?.step.toFixed(2) ?? '-', ms(own?.seam?.burst)],
      `${yes(given?.fadeFirst)} ${yes(given?.spliceFirst)}`,
      `${own?.took.toFixed(0)}`,
    ]),
  ])}\n\n`,
);

/** "0.957 of 96 (.911 to .980)": the range is Wilson's of 90 %. */
function share(of: readonly Row[], is: (row: Row) => boolean): string {
  const rate = of.filter(is).length / of.length;
  const range = wilson(rate, of.length).map((edge) => edge.toFixed(3));
  return `${rate.toFixed(3)} of ${of.length} (${range.join(' to ')})`;
}

const seamsOf = (of: readonly Row[], who: 'own' | 'given') => of.flatMap((row) => row[who]?.seam ?? []);
const spread = (values: readonly number[], digits = 1): string =>
  `${median(values).toFixed(digits)}, ${quantile(values, 0.95).toFixed(digits)}`;

/** How far the program's own figure is from the truth, and whether a bad seam is called bad. */
function honesty(pairs: readonly { error: number; said: number | null }[]): string {
  const known = pairs.flatMap(({ error, said }) =>
    said === null ? [] : [[Math.abs(error), Math.abs(said)] as const],
  );
  const off = known.map(([error, said]) => Math.abs(error - said));
  const under = known.filter(([error, said]) => error > 12 && said < 6).length;
  return `${spread(off)}; ${under} of ${known.length} called good that are not; ${pairs.length - known.length} not measured`;
}

function correlation(pairs: readonly { error: number; said: number | null }[]): string {
  const known = pairs.flatMap(({ error, said }) =>
    said === null ? [] : [[Math.abs(error), Math.abs(said)] as const],
  );
  const mean = (k: 0 | 1) => known.reduce((sum, pair) => sum + pair[k], 0) / known.length;
  const [x, y] = [mean(0), mean(1)];
  let [xy, xx, yy] = [0, 0, 0];
  for (const [a, b] of known) {
    xy += (a - x) * (b - y);
    xx += (a - x) ** 2;
    yy += (b - y) ** 2;
  }
  return (xy / Math.sqrt(xx * yy + 1e-12)).toFixed(3);
}

function figures(of: readonly Row[]): string[] {
  const [own, given] = [seamsOf(of, 'own'), seamsOf(of, 'given')];
  const inThree = (at: number | undefined) => at !== undefined && at >= 0 && at < 3;
  const errors = (seams: typeof own) => seams.map(({ error }) => Math.abs(error));
  return [
    share(of, ({ own }) => own?.onBars ?? false),
    share(of, ({ own }) => own?.onSections ?? false),
    share(of, ({ own }) => inThree(own?.fadeAt) && inThree(own?.spliceAt)),
    share(of, ({ given }) => (given?.fadeFirst && given.spliceFirst) ?? false),
    spread(errors(own)),
    spread(errors(given)),
    honesty(own),
    honesty(own.flatMap(({ moved }) => moved)),
    correlation(own.flatMap(({ error, said, moved }) => [{ error, said }, ...moved])),
    `${own.filter(({ step }) => step > 1).length} of ${own.length}`,
    `${own.filter(({ burst }) => burst > 1).length} of ${own.length}`,
    spread(
      of.flatMap(({ own }) => own?.took ?? []),
      0,
    ),
    median(of.flatMap(({ own, pass }) => (own ? [own.took / pass] : []))).toFixed(2),
  ];
}

const folders = [...new Set(rows.map(({ folder }) => folder))];
const groups: [string, readonly Row[]][] = [
  ['all', rows],
  ...folders.map((folder): [string, Row[]] => [folder, rows.filter((row) => row.folder === folder)]),
];
const ABOUT = [
  'first splice on true bar lines',
  'first splice on true sections',
  'both edits among the first three',
  'given beats and sections: first fade and first splice',
  'beat error at the seam, ms: median, 95 %',
  'the same with given beats',
  'what is said of it is off by, ms',
  'the same moved by 20 and 50 ms',
  'correlation of said and true',
  'sample step above the music around',
  'high frequencies more than 1 dB above',
  'all proposals, ms: median, 95 %',
  'the same in plain passes',
];
for (const [name, of] of groups) {
  process.stdout.write(
    `${table([[name, `${of.length} songs`], ...figures(of).map((figure, i) => [ABOUT[i]!, figure])])}\n\n`,
  );
}
