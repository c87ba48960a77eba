import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { parseBeats, parseLab } from '../../lib/core/song/annotation.ts';
import { type Listening, listen } from '../../lib/core/song/listen.ts';
import * as metrics from '../../lib/core/song/metrics.ts';
import { z } from '../../lib/core/zod.ts';
import { jsonOf, songOf, textOf } from './files.ts';
import type { Verb } from './verb.ts';
import { plural, table } from './words.ts';
import { need, Wrong } from './wrong.ts';

const FIGURES = [
  'beatF',
  'downbeatF',
  'cmlt',
  'amlt',
  'tempo1',
  'tempo2',
  'boundary05',
  'boundary3',
  'seconds',
] as const;
/** Only where a truth file says what is true. */
const MORE = ['metreOk', 'sameMusicF', 'keyOk'] as const;
/** `seconds` is the time taken for a minute of song. */
type Figure = (typeof FIGURES)[number] | (typeof MORE)[number];
type Row = { name: string } & Partial<Record<Figure, number>>;

export const scoreVerb: Verb = {
  use: 'FOLDER',
  does: 'listening judged on annotated songs: a row a song, and the means',
  words: 1,
  async run([folder = '']) {
    const songs: Row[] = [];
    for (const name of await annotatedIn(folder)) songs.push(await scoreOf(folder, name));
    const mean = meanOf(songs);
    const columns = [...FIGURES, ...MORE].filter((figure) => mean[figure] !== undefined);
    const rows = [...songs, { ...mean, name: 'mean' } as Row].map((row) => [
      row.name,
      ...columns.map((figure) => row[figure]?.toFixed(3) ?? ''),
    ]);
    return {
      json: { songs, mean },
      text: table([['song', ...columns], ...rows]),
      line: `score: ${plural(songs.length, 'song')}, mean beat F ${mean.beatF!.toFixed(3)}.`,
    };
  },
};

const AUDIO = /\.(wav|mp3|flac|ogg)$/i;

/** File names of the songs beside which stand beats and sections. */
async function annotatedIn(folder: string): Promise<string[]> {
  const files = await readdir(folder).catch(() => {
    throw new Wrong(`${folder}: this folder cannot be read.`);
  });
  const has = new Set(files);
  const annotated = files
    .filter((file) => AUDIO.test(file))
    .filter((file) => has.has(file.replace(AUDIO, '.beats')) && has.has(file.replace(AUDIO, '.lab')));
  if (annotated.length === 0) {
    throw new Wrong(`${folder}: no song with NAME.beats and NAME.lab beside it was found.`);
  }
  return annotated.sort();
}

async function scoreOf(folder: string, file: string): Promise<Row> {
  const name = file.replace(AUDIO, '');
  const beside = (ending: string) => join(folder, `${name}.${ending}`);
  const { beats, positions } = need(parseBeats(await textOf(beside('beats'))), beside('beats'));
  const sections = need(parseLab(await textOf(beside('lab'))), beside('lab'));
  const { samples, duration } = await songOf(join(folder, file));
  const began = performance.now();
  const result = listen(samples);
  const seconds = (performance.now() - began) / 1000;
  // What could not be heard counts as nothing heard.
  const heard: Pick<Listening, 'beats' | 'bars' | 'sections' | 'tempo'> = result.ok
    ? result.value
    : { beats: [], bars: [], sections: [], tempo: 0 };
  const tempo = metrics.tempoRight(metrics.tempoOf(beats), heard.tempo);
  const row: Row = {
    name,
    beatF: metrics.beatF(beats, heard.beats),
    downbeatF: metrics.downbeatF(
      beats.filter((_, i) => positions[i] === 1),
      heard.bars,
    ),
    ...metrics.continuity(beats, heard.beats),
    tempo1: Number(tempo.tempo1),
    tempo2: Number(tempo.tempo2),
    boundary05: metrics.boundaryF(sections, heard.sections, 0.5),
    boundary3: metrics.boundaryF(sections, heard.sections, 3),
    seconds: seconds / (duration / 60),
  };
  return { ...row, ...(await moreOf(beside('truth.json'), result.ok ? result.value : null)) };
}

/** As much as is needed of NAME.truth.json; what is missing there is not judged. */
const truthFile = z.object({
  beats_per_bar: z.number().optional(),
  compound: z.boolean().optional(),
  key: z.object({ tonic: z.string(), mode: z.string() }).optional(),
  sections: z
    .array(z.object({ start: z.number(), end: z.number(), label: z.string(), material: z.string() }))
    .optional(),
});

async function moreOf(path: string, heard: Listening | null): Promise<Partial<Row>> {
  let value: unknown;
  try {
    value = await jsonOf(path);
  } catch {
    return {};
  }
  const parsed = truthFile.safeParse(value);
  if (!parsed.success)
    throw new Wrong(`${path}: ${parsed.error.issues[0]!.path.join('.')} is not as it should be.`);
  const { beats_per_bar: beats, compound, key, sections } = parsed.data;
  const more: Partial<Row> = {};
  if (beats !== undefined) {
    const subdivision = compound ? 3 : 2;
    more.metreOk = Number(heard !== null && metrics.metreOk({ beats, subdivision }, heard.metre));
  }
  if (sections) {
    const truth = sections.map(({ start, end, material: like }) => ({ start, end, like }));
    more.sameMusicF = heard === null ? 0 : metrics.sameMusicF(truth, heard.sections);
  }
  if (key) more.keyOk = Number(heard !== null && metrics.keyOk(`${key.tonic} ${key.mode}`, heard.key));
  return more;
}

/** Over the songs that have the figure. */
function meanOf(songs: readonly Row[]): Partial<Record<Figure, number>> {
  const mean: Partial<Record<Figure, number>> = {};
  for (const figure of [...FIGURES, ...MORE]) {
    const values = songs.flatMap((song) => song[figure] ?? []);
    if (values.length > 0) mean[figure] = values.reduce((sum, x) => sum + x, 0) / values.length;
  }
  return mean;
}
