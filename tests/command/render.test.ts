import { readFile, writeFile } from 'node:fs/promises';
import decodeMp3 from '@audio/decode-mp3';
import decodeWav from '@audio/decode-wav';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { AudioBench } from '../../app/_client/audioBench.ts';
import { compileEdit } from '../../lib/core/edit/compile.ts';
import type { Edit } from '../../lib/core/edit/edit.ts';
import { durationOf } from '../../lib/core/signal/samples.ts';
import { recordTime } from '../../lib/core/units.ts';
import { convert, hasFfmpeg, probe, without } from '../codec/sounds.ts';
import { cut, fade } from '../core/edit/edits.ts';
import { answerOf, newFolder, song, writeWav } from './songs.ts';

/** The same edit as a file by the command and by the page's worker, read by readers that are not ours. */
const own: Edit = {
  ...{ start: recordTime(0.5), cuts: [cut(8.5, 16.5), cut(22.123457, 30.1)], speed: 1 },
  end: { ...fade(40, 5), byHand: false } as Edit['end'],
};
const slower: Edit = { ...own, speed: 0.95 };
const { rate } = song.samples;
const lengthOf = (edit: Edit) =>
  Math.round(compileEdit(edit, { duration: durationOf(song.samples) }).length * rate);
const words = { title: 'Lantern Street', artist: 'The Hedge' };

let folder: Awaited<ReturnType<typeof newFolder>>;
const bench = new AudioBench();

beforeAll(async () => {
  folder = await newFolder();
  await writeWav(folder.path('song.wav'), song.samples);
  const bytes = await readFile(folder.path('song.wav'));
  await bench.do('load', { bytes: new Uint8Array(bytes).buffer }, () => {});
});
afterAll(() => folder.remove());

async function byCommand(name: string, edit: Edit, ...options: string[]): Promise<Buffer> {
  await writeFile(folder.path('edit.json'), JSON.stringify(edit));
  const files = ['--edit', folder.path('edit.json'), '--out', folder.path(name), '--overwrite'];
  await answerOf('render', folder.path('song.wav'), ...files, ...options);
  return readFile(folder.path(name));
}

async function byWorker(edit: Edit, as: 'wav' | 'mp3'): Promise<Buffer> {
  const tags = { ...words, comment: 'Rendered by Larkstep' };
  const made = await bench.do('finished', { edit, as, tags }, () => {});
  if (!made.ok) throw new Error(made.problem.sentence);
  return Buffer.from(await made.value.arrayBuffer());
}

describe('the command and the worker', () => {
  it.each([
    ['wav', own, 'as recorded'],
    ['mp3', own, 'as recorded'],
    ['wav', slower, 'slower'],
  ] as const)('make the same bytes of the DJ’s file: %s, %o', async (as, edit, _words) => {
    const tags = ['--title', words.title, '--artist', words.artist];
    const here = await byCommand(`dj.${as}`, edit, '--silent-end', ...tags);
    expect(here.equals(await byWorker(edit, as))).toBe(true);
  });
});

describe('other readers find', () => {
  it('exactly the floor length in a WAV of either depth, and a second more in the DJ’s file', async () => {
    for (const [options, more] of [
      [[], 0],
      [['--bits', '24'], 0],
      [['--silent-end'], rate],
    ] as const) {
      const read = decodeWav(await byCommand('out.wav', own, ...options));
      expect(read.sampleRate).toBe(rate);
      expect(read.channelData[0]).toHaveLength(lengthOf(own) + more);
      expect(read.channelData[0]!.subarray(lengthOf(own)).every((x) => x === 0)).toBe(true);
    }
  });

  it('the same length in an MP3, and at another speed', async () => {
    for (const edit of [own, slower]) {
      const read = await decodeMp3(await byCommand('out.mp3', edit));
      expect(read.channelData[0]).toHaveLength(lengthOf(edit));
    }
  });

  it.skipIf(!hasFfmpeg)(
    `(ffmpeg) the same samples in all of them, and what the tags say${without}`,
    async () => {
      for (const [name, options, codec] of [
        ['out.wav', [], 'pcm_s16le'],
        ['out.wav', ['--bits', '24'], 'pcm_s24le'],
        ['out.mp3', ['--title', words.title, '--artist', words.artist], 'mp3'],
      ] as const) {
        const bytes = await byCommand(name, own, ...options);
        expect(convert(bytes, 'f32', ['-f', 'f32le']).length).toBe(4 * lengthOf(own));
        const { streams, format } = probe(bytes);
        expect(streams[0]).toMatchObject({ codec_name: codec, sample_rate: String(rate), channels: 1 });
        if (codec !== 'mp3') continue;
        expect(format.tags).toMatchObject({ ...words, comment: 'Rendered by Larkstep' });
        // The format's most at 22,050 Hz; at 44,100 it is 320.
        expect(streams[0]!.bit_rate).toBe('160000');
      }
    },
  );
});
