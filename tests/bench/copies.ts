import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { aacProgram } from '../../lib/codec/aac.node.ts';
import { decode } from '../../lib/codec/decode.ts';
import { type Comparison, compareImprints } from '../../lib/core/compare/compare.ts';
import { decodeImprint, encodeImprint, type Imprint, imprintOf } from '../../lib/core/compare/imprint.ts';
import { quantile } from '../../lib/core/signal/statistics.ts';
import { wilson } from '../../lib/core/song/calibration.ts';
import { table } from '../../server/command/words.ts';

/**
 * `npm run bench:copies -- FOLDER…`: the copy check on folders of copies whose truth stands in `variants.json`: for each copy its
 * verdict, the error of its offset, speed and cut, and the CPU seconds of the comparison, decoding not counted; then the rates of
 * all folders together with their 90 % Wilson intervals. Never part of the tests.
 */
const folders = process.argv.slice(2);
if (folders.length === 0) {
  process.stderr.write('use: npm run bench:copies -- FOLDER..., folders of copies with a variants.json\n');
  process.exit(2);
}

/** What is true of a copy; times in seconds. */
interface Variant {
  ref: string;
  file: string;
  name: string;
  /** `announced`: somebody speaks over its beginning; it is the same, or said to be different there. */
  verdict: 'same' | 'same-speed' | 'edited' | 'announced' | 'different';
  offset: number;
  /** The copy's speed. */
  speed: number;
  /** From and to, in the recording. */
  cut?: [number, number];
}

const RIGHT: Record<Variant['verdict'], readonly Comparison['verdict'][]> = {
  same: ['same', 'shifted'],
  'same-speed': ['same', 'shifted'],
  edited: ['cut differently'],
  announced: ['same', 'shifted', 'cut differently'],
  different: ['another recording'],
};

const samplesOf = async (path: string) => {
  const decoded = await decode(await readFile(path), { aac: aacProgram });
  if (!decoded.ok) throw new Error(`${path}: ${decoded.problem.sentence}`);
  return decoded.value.samples;
};
/** CPU seconds of this process, which other work on the machine does not lengthen. */
const cpu = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

const rows: string[][] = [['copy', 'verdict', 'right', 'offset ms', 'ppm', 'cut s', 'CPU s']];
const marks: number[] = [];
const [offsets, speeds, cuts, plain, sped]: number[][] = [[], [], [], [], []] as number[][];
const rights = new Map<string, { right: number; n: number }>();
const count = (key: string, right: boolean) => {
  const before = rights.get(key) ?? { right: 0, n: 0 };
  rights.set(key, { right: before.right + Number(right), n: before.n + 1 });
};

for (const folder of folders) {
  const variants: Variant[] = JSON.parse(await readFile(join(folder, 'variants.json'), 'utf8'));
  let known: { ref: string; imprint: Imprint } = {
    ref: '',
    imprint: imprintOf({ rate: 44_100, channels: [] }),
  };
  for (const variant of variants) {
    if (known.ref !== variant.ref) {
      const text = encodeImprint(imprintOf(await samplesOf(variant.ref)));
      marks.push(text.length);
      known = { ref: variant.ref, imprint: decodeImprint(text)! };
    }
    const copy = await samplesOf(variant.file);
    const began = cpu();
    const found = compareImprints(known.imprint, imprintOf(copy));
    const took = cpu() - began;
    const right = RIGHT[variant.verdict].includes(found.verdict);
    count('all', right);
    count(variant.name, right);
    (variant.speed === 1 ? plain! : sped!).push(took);
    const placed = right && variant.verdict !== 'different';
    const offset = placed ? found.offsetMs - 1000 * variant.offset : null;
    const ppm = placed ? (found.ratio * variant.speed - 1) * 1e6 : null;
    const cut = placed && variant.cut ? cutError(found, variant.cut) : null;
    if (offset !== null) offsets!.push(Math.abs(offset));
    if (ppm !== null) speeds!.push(Math.abs(ppm));
    if (cut !== null) cuts!.push(cut);
    const cells = [offset?.toFixed(2), ppm?.toFixed(1), cut?.toFixed(2)].map((cell) => cell ?? '');
    rows.push([variant.file, found.verdict, right ? 'yes' : 'NO', ...cells, took.toFixed(2)]);
  }
}

/** Seconds by which the two ends of what is missing are named wrongly, the worse of the two. */
function cutError({ differences }: Comparison, [from, to]: [number, number]): number {
  const errors = differences.map((d) => Math.max(Math.abs(d.recordFrom - from), Math.abs(d.recordTo - to)));
  return Math.min(Number.POSITIVE_INFINITY, ...errors);
}

const spread = (name: string, values: number[], digits: number): string[] => [
  name,
  String(values.length),
  ...[0.5, 0.95, 1].map((q) => quantile(values, q).toFixed(digits)),
];
const rates = [...rights].map(([name, { right, n }]) => {
  const [low, high] = wilson(right / n, n);
  return [name, `${right} of ${n}`, `${(100 * low).toFixed(1)} to ${(100 * high).toFixed(1)} %`];
});
process.stdout.write(
  `${[
    table(rows),
    table([['right verdicts', '', '90 % interval'], ...rates]),
    table([
      ['', 'n', 'median', '95th', 'worst'],
      spread('offset off by, ms', offsets!, 2),
      spread('speed off by, ppm', speeds!, 1),
      spread('cut named off by, s', cuts!, 2),
      spread('CPU s, same speed', plain!, 2),
      spread('CPU s, another speed', sped!, 2),
      spread('imprint, bytes', marks, 0),
    ]),
  ].join('\n\n')}\n`,
);
