import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Samples } from '../../lib/core/signal/samples.ts';

/** Numbers between -1 and 1 that are the same each time (a linear congruential generator). */
export function noise(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

/** Soft tones with clicks of 20 samples at the given places. */
export function clicks(rate: number, length: number, places: number[], channels = 2): Samples {
  return {
    rate,
    channels: Array.from({ length: channels }, (_, c) => {
      const x = Float32Array.from({ length }, (_, i) => 0.2 * Math.sin(i * (0.05 + 0.02 * c)));
      for (const at of places) for (let k = 0; k < 20; k++) x[at + k] = k % 2 ? -0.9 : 0.9;
      return x;
    }),
  };
}

/** By how many samples `copy` shows the sound around `at` later, by correlation over +-`reach`. */
export function lag(x: Float32Array, copy: Float32Array, at: number, reach = 1500): number {
  let best = Number.NEGATIVE_INFINITY;
  let found = 0;
  for (let by = -reach; by <= reach; by++) {
    let sum = 0;
    for (let k = -50; k < 70; k++) sum += x[at + k]! * (copy[at + k + by] ?? 0);
    if (sum > best) {
      best = sum;
      found = by;
    }
  }
  return found;
}

/** How alike two sounds are where the second is `by` samples later: 1 for the same but for its loudness. */
export function likeness(x: Float32Array, copy: Float32Array, by = 0): number {
  let [both, one, other] = [0, 0, 0];
  for (let i = Math.max(0, -by); i < x.length && i + by < copy.length; i++) {
    both += x[i]! * copy[i + by]!;
    one += x[i]! ** 2;
    other += copy[i + by]! ** 2;
  }
  return both / Math.sqrt(one * other || 1);
}

export const hasFfmpeg =
  spawnSync('ffmpeg', ['-version']).status === 0 && spawnSync('ffprobe', ['-version']).status === 0;
export const without = hasFfmpeg ? '' : ' (skipped: no ffmpeg on the PATH)';

/** Converts bytes by ffmpeg: the second reader and the writer that are not ours. */
export function convert(
  bytes: Uint8Array,
  extension: string,
  options: string[] = [],
  reading: string[] = [],
): Uint8Array {
  return withFolder((folder) => {
    const from = join(folder, 'in');
    const to = join(folder, `out.${extension}`);
    writeFileSync(from, bytes);
    const run = spawnSync('ffmpeg', [
      '-v',
      'error',
      '-y',
      ...reading,
      '-i',
      from,
      '-bitexact',
      ...options,
      to,
    ]);
    if (run.status !== 0) throw new Error(String(run.stderr));
    return new Uint8Array(readFileSync(to));
  });
}

/** What ffmpeg decodes of a file: its channels one after the other. */
export function decodedByFfmpeg(bytes: Uint8Array, channels: number, reading: string[] = []): Float32Array[] {
  const raw = convert(bytes, 'raw', ['-f', 'f32le', '-c:a', 'pcm_f32le'], reading);
  const all = new Float32Array(raw.buffer, raw.byteOffset, raw.byteLength / 4);
  return Array.from({ length: channels }, (_, c) =>
    Float32Array.from({ length: all.length / channels }, (_, i) => all[i * channels + c]!),
  );
}

/** What ffprobe says of a file: its tags, and of its sound codec, rate, channels and bits a second. */
export function probe(bytes: Uint8Array): {
  format: { tags?: Record<string, string> };
  streams: { codec_name: string; sample_rate: string; channels: number; bit_rate: string }[];
} {
  return withFolder((folder) => {
    const file = join(folder, 'in');
    writeFileSync(file, bytes);
    const run = spawnSync('ffprobe', ['-v', 'error', '-show_format', '-show_streams', '-of', 'json', file]);
    return JSON.parse(String(run.stdout));
  });
}

function withFolder<T>(job: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'larkstep-test-'));
  try {
    return job(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Whether two sounds are equal to the bit; quicker than an assertion over half a million numbers. */
export const same = (a: Float32Array[], b: Float32Array[]): boolean =>
  a.length === b.length && a.every((x, c) => bytesOf(x).equals(bytesOf(b[c]!)));
const bytesOf = (x: Float32Array): Buffer => Buffer.from(x.buffer, x.byteOffset, x.byteLength);
