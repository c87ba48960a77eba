import { parseBeats } from '../../lib/core/song/annotation.ts';
import { wilson } from '../../lib/core/song/calibration.ts';
import { barStartsHere, gridFrom, gridFromBeats, metreOf, tapAlong } from '../../lib/core/song/correct.ts';
import { type Correction, SAID } from '../../lib/core/song/evidence.ts';
import { framesOf } from '../../lib/core/song/frames.ts';
import type { Grid } from '../../lib/core/song/grid.ts';
import { hearAgain } from '../../lib/core/song/hearAgain.ts';
import { listen } from '../../lib/core/song/listen.ts';
import { eventF } from '../../lib/core/song/metrics.ts';
import { hearable } from '../../lib/core/song/readings.ts';
import { recordTime } from '../../lib/core/units.ts';
import { annotatedIn } from '../../server/command/annotated.ts';
import { songOf, textOf } from '../../server/command/files.ts';
import { table } from '../../server/command/words.ts';
import { need } from '../../server/command/wrong.ts';
import { dice } from '../kit/synth.ts';
import { handOf, oneBar, taps } from './hands.ts';

/**
 * `npm run bench:correct -- FOLDER [FOLDER ...]`: of annotated songs whose bars are heard wrong, how many are right to the end after one
 * correction by a simulated hand (hands.ts): eight taps from a bar line on, one "a bar starts here", or the metre; beside it the same
 * correction without the audio. And whether songs that were heard right stay so. Never part of the tests.
 */
const folders = process.argv.slice(2);
if (folders.length === 0) {
  process.stderr.write('use: npm run bench:correct -- FOLDER [FOLDER ...], folders of annotated songs\n');
  process.exit(2);
}

/** Bars are heard right within the window that is usual for beats (Dixon 2007), and corrected right within less. Seconds. */
const USUAL = 0.07;
const NEAR = 0.04;
/** Bars are right to the end where this share of all, and of the last quarter, are (F-measure). */
const RIGHT = 0.95;

const barTimes = (grid: Grid): number[] => grid.bars.map((i) => grid.beats[i]!);

function isRight(truth: readonly number[], grid: Grid | null, near = NEAR): boolean {
  if (!grid) return false;
  const end = truth.at(-1)! + 0.1;
  const heard = barTimes(grid).filter((t) => t >= truth[0]! - 0.1 && t <= end);
  const last = truth[Math.floor(0.75 * truth.length)]! - 0.1;
  const late = (times: readonly number[]) => times.filter((t) => t >= last);
  return eventF(truth, heard, near) >= RIGHT && eventF(late(truth), late(heard), near) >= RIGHT;
}

interface Row {
  name: string;
  before: boolean;
  said: string;
  taps: boolean;
  bar: boolean;
  metre: boolean | null;
  dry: { taps: boolean; bar: boolean; metre: boolean | null };
  seconds: number;
}

const rows: Row[] = [];
for (const [n, { folder, name, path }] of (await annotatedIn(folders)).entries()) {
  const { beats, positions } = need(parseBeats(await textOf(path.replace(/\.[^.]+$/, '.beats'))));
  const subdivision = /_(68|128|98)_/.test(name) ? 3 : 2;
  const written = gridFromBeats(beats, positions, subdivision);
  const truth = barTimes(written);
  const { samples } = await songOf(path);
  const heard = listen(samples);
  const grid = heard.ok ? gridFrom(heard.value) : null;
  const lastSound = heard.ok ? heard.value.lastSound : samples.channels[0]!.length / samples.rate;
  const begun = performance.now();
  const song = hearable(framesOf(samples, () => {}));
  const random = dice(1000 + n);
  const at = written.bars[Math.floor(written.bars.length * (0.15 + 0.5 * random()))]!;
  const [eight, one] = [taps(handOf(random), written.beats, at), oneBar(handOf(random), written.beats[at]!)];
  const { beatsPerBar } = written;
  const metre: Correction = {
    ...SAID,
    kind: 'metre',
    metre: { beatsPerBar, subdivision: written.subdivision },
  };
  const isMetre = grid?.beatsPerBar === beatsPerBar && grid.subdivision === written.subdivision;
  const after = (said: Correction) => hearAgain(song, lastSound, grid, [said]);
  const again = after(eight);
  const plain = grid ?? gridFromBeats([], []);
  rows.push({
    name: `${folder}/${name}`,
    before: isRight(truth, grid, USUAL),
    said: `${beatsPerBar}/${written.subdivision} ${tempo(written)}; heard ${grid ? `${grid.beatsPerBar}/${grid.subdivision} ${tempo(grid)}` : 'none'}; tapped ${again ? `${again.grid.beatsPerBar}/${again.grid.subdivision} ${tempo(again.grid)}, F ${eventF(truth, barTimes(again.grid), NEAR).toFixed(2)} ${eventF(truth, barTimes(again.grid), USUAL).toFixed(2)}, late ${(1000 * again.late[0]!).toFixed(0)}` : 'none'}`,
    taps: isRight(truth, again?.grid ?? null),
    bar: isRight(truth, after(one)?.grid ?? null),
    metre: isMetre ? null : isRight(truth, after(metre)?.grid ?? null),
    dry: {
      taps: isRight(truth, tapAlong(plain, eight.times, 'hand', recordTime(lastSound))),
      bar: isRight(truth, barStartsHere(plain, one.times[0]!, 'hand')),
      metre: isMetre ? null : isRight(truth, metreOf(plain, beatsPerBar, written.subdivision, 'hand')),
    },
    seconds: (performance.now() - begun) / 1000,
  });
  process.stderr.write(`${lineOf(rows.at(-1)!)}\n`);
}

function tempo({ beats }: Grid): string {
  return String(Math.round((60 * (beats.length - 1)) / (beats.at(-1)! - beats[0]!)));
}

function lineOf({ name, before, said, taps, bar, metre, dry }: Row): string {
  const word = (right: boolean | null) => (right === null ? '-' : right ? 'right' : 'WRONG');
  return [name, word(before), word(taps), word(bar), word(metre), word(dry.taps), word(dry.bar), said].join(
    '  ',
  );
}

const share = (of: readonly Row[], is: (row: Row) => boolean): string => {
  const hits = of.filter(is).length;
  const [low, high] = wilson(hits / Math.max(1, of.length), of.length);
  return `${hits} of ${of.length} (${low.toFixed(2)} to ${high.toFixed(2)})`;
};
const wrong = rows.filter(({ before }) => !before);
const right = rows.filter(({ before }) => before);
const ofMetre = wrong.filter(({ metre }) => metre !== null);
process.stdout.write(
  `${table([
    ['bars right to the end within 40 ms', 'heard again', 'without the audio'],
    ['as heard, within 70 ms', share(rows, (row) => row.before), ''],
    ['wrong ones, after eight taps', share(wrong, (row) => row.taps), share(wrong, (row) => row.dry.taps)],
    ['wrong ones, after one bar', share(wrong, (row) => row.bar), share(wrong, (row) => row.dry.bar)],
    [
      'wrong metres, after the metre',
      share(ofMetre, (row) => row.metre === true),
      share(ofMetre, (row) => row.dry.metre === true),
    ],
    [
      'wrong ones, after any one of them',
      share(wrong, (row) => row.taps || row.bar || row.metre === true),
      share(wrong, (row) => row.dry.taps || row.dry.bar || row.dry.metre === true),
    ],
    ['right ones, after eight taps', share(right, (row) => row.taps), share(right, (row) => row.dry.taps)],
    ['right ones, after one bar', share(right, (row) => row.bar), share(right, (row) => row.dry.bar)],
  ])}\nseconds a song, frames and three hearings: ${(rows.reduce((sum, row) => sum + row.seconds, 0) / rows.length).toFixed(1)}\n`,
);
