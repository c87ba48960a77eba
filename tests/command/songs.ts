import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encodeWav } from '../../lib/codec/wav.ts';
import type { Samples } from '../../lib/core/signal/samples.ts';
import { run } from '../../server/command/run.ts';
import { plainForm, type Synthesised, synth } from '../kit/synth.ts';

/** A song of about 54 s whose beats and sections are known. */
export const song: Synthesised = synth({
  bpm: 120,
  beats: 4,
  subdivision: 2,
  sections: plainForm.slice(0, 4).map((section) => ({ ...section })),
  rate: 22_050,
});

/** A folder for the files of one test file. */
export async function newFolder(): Promise<{ path(name: string): string; remove(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-test-'));
  return {
    path: (name) => join(folder, name),
    remove: () => rm(folder, { recursive: true, force: true }),
  };
}

export const writeWav = (path: string, samples: Samples): Promise<void> =>
  writeFile(path, encodeWav(samples, 16));

/** The parsed answer of a call that must end well. */
export async function answerOf(...args: string[]): Promise<unknown> {
  const { code, out, line } = await run([...args, '--json']);
  if (code === 2) throw new Error(line);
  return JSON.parse(out);
}
