import { execFileSync, spawnSync } from 'node:child_process';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { integratedLoudness, truePeak } from '../../lib/core/song/loudness.ts';
import { songOf } from '../../server/command/files.ts';
import { table } from '../../server/command/words.ts';

/**
 * `npm run bench:loudness -- FOLDER…`: our loudness and true peak beside those of ffmpeg's meter (filter ebur128, of EBU R 128), a meter
 * that is not ours, on songs. It writes integrated loudness to three decimals and peaks to one.
 */
const folders = process.argv.slice(2);
if (folders.length === 0 || spawnSync('ffmpeg', ['-version']).status !== 0) {
  process.stderr.write('use: npm run bench:loudness -- FOLDER…, folders of songs, with ffmpeg on the PATH\n');
  process.exit(2);
}

function theirs(path: string): { loudness: number; peak: number } {
  const print = 'ametadata=mode=print:key=lavfi.r128.I:file=-';
  const meter = ['-v', 'error', '-i', path, '-af', `ebur128=metadata=1,${print}`, '-f', 'null', '-'];
  const lines = execFileSync('ffmpeg', meter, { maxBuffer: 1 << 28 }).toString();
  const peaks = ['-i', path, '-af', 'ebur128=peak=true', '-f', 'null', '-'];
  const summary = spawnSync('ffmpeg', peaks, { maxBuffer: 1 << 28 }).stderr.toString();
  return {
    loudness: Number(lines.slice(lines.lastIndexOf('=') + 1)),
    peak: Number(/True peak:\s+Peak:\s+(\S+) dBFS/.exec(summary)?.[1]),
  };
}

const rows: string[][] = [];
const off = { loudness: 0, peak: 0 };
for (const folder of folders) {
  const names = (await readdir(folder)).filter((name) => /\.(wav|mp3|flac|ogg|opus)$/i.test(name)).sort();
  for (const name of names) {
    const path = join(folder, name);
    const { samples } = await songOf(path);
    const ours = { loudness: integratedLoudness(samples), peak: truePeak(samples) };
    const other = theirs(path);
    off.loudness = Math.max(off.loudness, Math.abs(ours.loudness - other.loudness));
    off.peak = Math.max(off.peak, Math.abs(ours.peak - other.peak));
    const figures = [ours.loudness, other.loudness, ours.peak, other.peak];
    rows.push([name, String(samples.channels.length), ...figures.map((x) => x.toFixed(3))]);
  }
}
process.stdout.write(
  `${table([['song', 'channels', 'LUFS', 'theirs', 'dBTP', 'theirs'], ...rows])}
${rows.length} songs; farthest apart: ${off.loudness.toFixed(3)} LU, ${off.peak.toFixed(3)} dB (their peaks are rounded to 0.1 dB)
`,
);
