import { boardScore } from '../../lib/core/areas/score.ts';
import { heardOf } from '../../lib/core/checks/heard.ts';
import { lastStrong } from '../../lib/core/checks/landings.ts';
import { sightOf } from '../../lib/core/checks/sight.ts';
import { parseBeats } from '../../lib/core/song/annotation.ts';
import { gridFrom } from '../../lib/core/song/correct.ts';
import { listen } from '../../lib/core/song/listen.ts';
import { wholeMicros } from '../../lib/core/units.ts';
import { annotatedIn } from '../../server/command/annotated.ts';
import { songOf, textOf } from '../../server/command/files.ts';
import { table } from '../../server/command/words.ts';
import { need } from '../../server/command/wrong.ts';
import { boardOf } from '../kit/board.ts';

/**
 * `npm run bench:landing -- FOLDER [FOLDER ...]`: the last strong count that is offered for the closing pose, as the program hears each
 * song, held against the last bar line of NAME.beats, which is that of the last chord where the beats are written down by whoever
 * wrote the music. Beside it the last bar line that is counted before the last sound. Never part of the tests.
 */
const folders = process.argv.slice(2);
if (folders.length === 0) {
  process.stderr.write('use: npm run bench:landing -- FOLDER [FOLDER ...], folders of annotated songs\n');
  process.exit(2);
}

/** Reach within which a time is that of a bar line, seconds (Dixon 2007). */
const SAME = 0.07;

const rows: [string, number, number | null, number | null][] = [];
for (const { folder, name, path } of await annotatedIn(folders)) {
  const { beats, positions } = need(parseBeats(await textOf(path.replace(/\.[^.]+$/, '.beats'))));
  const truth = beats[positions.lastIndexOf(1)]!;
  const heard = listen((await songOf(path)).samples);
  if (!heard.ok) {
    rows.push([`${folder}/${name}`, truth, null, null]);
    continue;
  }
  const { value } = heard;
  const { plan, ...others } = boardOf({}, { grid: gridFrom(value), features: value.features, sections: [] });
  plan.recording!.duration = wholeMicros(value.duration);
  Object.assign(plan.heard!, { loudness: value.loudness, lastSound: value.lastSound });
  const score = boardScore(plan)!;
  const { danced } = sightOf({ plan, ...others }, score, heardOf(plan), '2027-01-01');
  const counted = score.counts.findLast((c) => c.inBar === 0 && !c.pickUp && c.floor <= score.musicLength);
  rows.push([`${folder}/${name}`, truth, lastStrong(plan, danced!)?.record ?? null, counted?.record ?? null]);
}
const off = (at: number | null, truth: number) => (at === null ? '-' : (at - truth).toFixed(3));
const right = (column: 2 | 3) =>
  `${rows.filter((row) => Math.abs((row[column] ?? Number.POSITIVE_INFINITY) - row[1]) <= SAME).length} of ${rows.length}`;
process.stdout.write(
  `${table([
    ['seconds after the last chord', 'last strong count', 'last count before the last sound'],
    ...rows.map(([name, truth, strong, counted]) => [name, off(strong, truth), off(counted, truth)]),
    ['within 70 ms', right(2), right(3)],
  ])}\n`,
);
