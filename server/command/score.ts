import { type Calibration, wilson } from '../../lib/core/song/calibration.ts';
import { listen } from '../../lib/core/song/listen.ts';
import { type Annotated, annotatedIn, truthOf } from './annotated.ts';
import { songOf } from './files.ts';
import {
  type Claims,
  CONFIDENCES,
  type Confidence,
  calibrationsOf,
  claimsOf,
  FIGURES,
  type Figures,
  figuresOf,
  type Interval,
  intervalsOf,
  meanOf,
} from './judge.ts';
import type { Verb } from './verb.ts';
import { plural, table } from './words.ts';

/** `seconds` is the time taken for a minute of song. */
type Row = { name: string; folder: string; seconds: number } & Figures;

/**
 * Judges only what the product hears. Beside libraries that are not ours it is judged by `npm run bench:score`, so that those
 * stay out of what is installed to run Larkstep.
 */
export const scoreVerb: Verb = {
  use: 'FOLDER [FOLDER ...]',
  does: 'listening judged on annotated songs, all folders together: a row a song, the means, and whether confidences hold',
  words: 1,
  more: true,
  example: 'score songs-with-annotations',
  async run(folders, _, report) {
    const annotated = await annotatedIn(folders);
    const songs: Row[] = [];
    const claims: Claims[] = [];
    for (const [i, song] of annotated.entries()) {
      report(`${i + 1} of ${annotated.length}: ${song.name}`);
      const judged = await judge(song);
      songs.push(judged.row);
      claims.push(judged.claims);
    }
    const mean = meanOf([...FIGURES, 'seconds'], songs);
    const interval = intervalsOf(songs);
    const calibration = calibrationsOf(claims);
    return {
      json: { songs, mean, n: songs.length, interval, calibration },
      text: [songsTable(songs, mean, interval), calibrationTable(calibration)].join('\n\n'),
      line: `score: ${plural(songs.length, 'song')}, mean beat F ${mean.beatF!.toFixed(3)}.`,
    };
  },
};

/** One song after another: only one is held in memory. */
async function judge(song: Annotated): Promise<{ row: Row; claims: Claims }> {
  const truth = await truthOf(song);
  const { samples, duration } = await songOf(song.path);
  const began = performance.now();
  const result = listen(samples);
  const seconds = (performance.now() - began) / 1000 / (duration / 60);
  const heard = result.ok ? result.value : null;
  const figures = figuresOf(truth, heard);
  return {
    row: { name: song.name, folder: song.folder, ...figures, seconds },
    claims: claimsOf(figures, heard),
  };
}

function songsTable(
  songs: readonly Row[],
  mean: ReturnType<typeof meanOf>,
  interval: ReturnType<typeof intervalsOf>,
): string {
  const figures = FIGURES.filter((figure) => mean[figure] !== undefined);
  const ofInterval = (edge: keyof Interval) =>
    figures.map((figure) => interval[figure]![edge].toFixed(edge === 'n' ? 0 : 3));
  const row = (name: string, values: Figures & { seconds?: number }): string[] => [
    name,
    ...figures.map((figure) => values[figure]?.toFixed(3) ?? ''),
    values.seconds?.toFixed(3) ?? '',
  ];
  return table([
    ['song', ...figures, 's/min'],
    ...songs.map((song) => row(`${song.folder}/${song.name}`, song)),
    row('mean', mean),
    ['n', ...ofInterval('n')],
    ['90 % from', ...ofInterval('low')],
    ['to', ...ofInterval('high')],
  ]);
}

function calibrationTable(calibration: Partial<Record<Confidence, Calibration>>): string {
  const rows = CONFIDENCES.flatMap((name) => {
    const found = calibration[name];
    if (!found) return [];
    const { n, error, doubted, bins } = found;
    return [
      ...bins.map((bin, i) => [
        i === 0 ? name : '',
        `${bin.from.toFixed(1)} to ${bin.to.toFixed(1)}`,
        String(bin.n),
        bin.said.toFixed(3),
        bin.right.toFixed(3),
      ]),
      [
        '',
        'all',
        String(n),
        `error ${error.toFixed(3)}`,
        `below 0.7: ${doubted.toFixed(2)} (to ${wilson(doubted, n)[1].toFixed(2)})`,
      ],
    ];
  });
  return table([['confidence', 'said', 'songs', 'mean said', 'right'], ...rows]);
}
