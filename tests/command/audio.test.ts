import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../server/command/run.ts';
import { compareShape, listenShape, scoreShape, shapeShape } from './shapes.ts';
import { answerOf, newFolder, song, writeWav } from './songs.ts';

/** The verbs that read recordings, run on a song made here, whose truth is known. */
let folder: Awaited<ReturnType<typeof newFolder>>;
let wav: string;

beforeAll(async () => {
  folder = await newFolder();
  wav = folder.path('song.wav');
  await writeWav(wav, song.samples);
});
afterAll(() => folder.remove());

describe('listen', () => {
  it('answers in the promised shape with what is true of the song', async () => {
    const heard = listenShape.parse(await answerOf('listen', wav));
    expect(heard.metre).toEqual({ beats: 4, subdivision: 2 });
    expect(Math.abs(heard.tempo - 120)).toBeLessThan(2);
    expect(heard.duration).toBeCloseTo(song.samples.channels[0]!.length / song.samples.rate, 3);
    expect(heard.bars.every((bar) => heard.beats.includes(bar))).toBe(true);
  });

  it('prints a table for people, and one line on standard error', async () => {
    const { code, out, line } = await run(['listen', wav]);
    expect(code).toBe(0);
    expect(out).toMatch(/metre +4 beats a bar/);
    expect(line).not.toBe('');
    expect(line).not.toContain('\n');
  });
});

describe('shape', () => {
  it('proposes edits in the promised shape, their lengths those of the edits', async () => {
    const { song: facts, proposals } = shapeShape.parse(
      await answerOf('shape', wav, '--target', '0:40', '--within', '10'),
    );
    for (const { edit, floorLength } of proposals) {
      const end = edit.end.kind === 'fade' ? edit.end.from + edit.end.length : facts.duration;
      const out = edit.cuts.reduce((sum, cut) => sum + cut.to - cut.from, 0);
      expect(floorLength).toBeCloseTo((end - edit.start - out) / edit.speed, 3);
    }
    expect(proposals.some(({ floorLength }) => Math.abs(floorLength - 40) <= 10)).toBe(true);
  });

  it('takes a person’s beats and sections in place of its own', async () => {
    await writeFile(
      folder.path('mine.beats'),
      song.beats.map((t, i) => `${t.toFixed(4)}\t${(i % 4) + 1}\n`).join(''),
    );
    await writeFile(folder.path('mine.lab'), '0.5\t16.5\tverse\n16.5\t40.5\tchorus\n');
    const args = ['shape', wav, '--beats', folder.path('mine.beats'), '--sections', folder.path('mine.lab')];
    const { song: facts } = shapeShape.parse(await answerOf(...args));
    expect(facts.sections).toMatchObject([
      { kind: 'verse', start: 0.5 },
      { kind: 'chorus', start: 16.5 },
    ]);

    const insisted = await answerOf(...args, '--target', '30', '--keep', 'chorus', '--own-ending');
    const { proposals } = shapeShape.parse(insisted);
    for (const { edit, leftOut } of proposals) {
      expect(edit.end.kind).toBe('own');
      expect(leftOut.flatMap(({ names }) => names).join()).not.toContain('chorus');
    }
    const whole = shapeShape.parse(await answerOf(...args, '--own-ending', '--no-splice'));
    expect(whole.proposals.map(({ kind }) => kind)).toEqual(['own length']);
    const { code, line } = await run([...args, '--keep', 'verse, bridge']);
    expect(code).toBe(2);
    expect(line).toContain('there is no "bridge". The song has verse, chorus.');
  });
});

describe('render', () => {
  it('writes a WAV of exactly the kept samples', async () => {
    await writeFile(folder.path('edit.json'), JSON.stringify({ cuts: [{ from: 8.5, to: 16.5 }] }));
    const answer = await answerOf(
      'render',
      wav,
      '--edit',
      folder.path('edit.json'),
      '--out',
      folder.path('out.wav'),
    );
    const { rate } = song.samples;
    const kept = song.samples.channels[0]!.length - Math.round(16.5 * rate) + Math.round(8.5 * rate);
    expect(answer).toMatchObject({ samples: kept, rate });
    // RIFF: a header of 44 bytes, then two bytes a sample of one channel.
    expect((await readFile(folder.path('out.wav'))).length).toBe(44 + 2 * kept);
  });

  it('writes an MP3, an unfinished edit taking its defaults', async () => {
    await writeFile(folder.path('fade.json'), JSON.stringify({ end: { kind: 'fade', from: 20, length: 4 } }));
    const args = ['render', wav, '--edit', folder.path('fade.json'), '--out', folder.path('out.mp3')];
    expect(await answerOf(...args)).toMatchObject({ floorLength: 24 });
    expect((await readFile(folder.path('out.mp3'))).subarray(0, 3).toString()).toBe('ID3');
  });
});

describe('compare', () => {
  it('knows a copy, and one that begins later', async () => {
    expect(compareShape.parse(await answerOf('compare', wav, wav)).verdict).toBe('same');
    const { rate, channels } = song.samples;
    const late = new Float32Array(channels[0]!.length + rate);
    late.set(channels[0]!, rate);
    await writeWav(folder.path('late.wav'), { rate, channels: [late] });
    const shifted = compareShape.parse(await answerOf('compare', wav, folder.path('late.wav')));
    expect(shifted.verdict).toBe('shifted');
    expect(Math.abs(shifted.offsetMs - 1000)).toBeLessThan(20);
  });
});

describe('score', () => {
  it('judges a folder: a row a song, and the means', async () => {
    await writeFile(
      folder.path('song.beats'),
      song.beats.map((t, i) => `${t.toFixed(4)}\t${(i % 4) + 1}\n`).join(''),
    );
    await writeFile(
      folder.path('song.lab'),
      song.sections.map((s) => `${s.start}\t${s.end}\tverse\n`).join(''),
    );
    const sections = song.sections.map(({ start, end, like }) => ({
      start,
      end,
      label: 'verse',
      material: like,
    }));
    await writeFile(
      folder.path('song.truth.json'),
      JSON.stringify({ beats_per_bar: 4, compound: false, key: { tonic: 'C', mode: 'major' }, sections }),
    );
    const { songs, mean, n, interval, calibration } = scoreShape.parse(
      await answerOf('score', folder.path('')),
    );
    expect(songs.map(({ name }) => name)).toEqual(['song']);
    expect(n).toBe(1);
    expect(interval.metreOk?.high).toBeCloseTo(1, 9);
    expect(calibration.metre?.bins).toMatchObject([{ n: 1, right: 1 }]);
    expect(mean.beatF).toBe(songs[0]!.beatF);
    expect(mean.metreOk).toBe(1);
    expect(mean.beatF).toBeGreaterThan(0.9);
  });

  it('judges several folders together', async () => {
    const other = await newFolder();
    const still = { rate: 22_050, channels: [new Float32Array(20 * 22_050)] };
    for (const name of ['one', 'two']) {
      await mkdir(other.path(name));
      await writeWav(other.path(`${name}/still.wav`), still);
      await writeFile(other.path(`${name}/still.beats`), '6\t1\n7\t2\n8\t1\n');
      await writeFile(other.path(`${name}/still.lab`), '0\t20\tverse\n');
    }
    const said = scoreShape.parse(await answerOf('score', other.path('one'), other.path('two')));
    expect(said.songs.map(({ folder: from, name }) => [from, name])).toEqual([
      ['one', 'still'],
      ['two', 'still'],
    ]);
    expect(said.interval.beatF?.n).toBe(2);
    expect(said.interval.beatF?.low).toBeCloseTo(0, 9);
    // Nothing was heard, so nothing was claimed.
    expect(said.calibration).toEqual({});
    await other.remove();
  });

  it('counts a song without a beat as nothing heard', async () => {
    const other = await newFolder();
    const { rate } = song.samples;
    await writeWav(other.path('still.wav'), { rate, channels: [new Float32Array(20 * rate)] });
    await writeFile(other.path('still.beats'), '6\t1\n7\t2\n8\t1\n');
    await writeFile(other.path('still.lab'), '0\t20\tverse\n');
    const { mean } = scoreShape.parse(await answerOf('score', other.path('')));
    expect(mean).toMatchObject({ beatF: 0, downbeatF: 0, boundary05: 0 });
    await other.remove();
  });
});
