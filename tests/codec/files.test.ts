import { describe, expect, it } from 'vitest';
import { aacProgram } from '../../lib/codec/aac.node.ts';
import { type Decoded, decode, LIMITS } from '../../lib/codec/decode.ts';
import { bytesOf, keptFiles } from './files/all.ts';
import { passage } from './files/passage.ts';
import { convert, decodedByFfmpeg, hasFfmpeg, likeness, without } from './sounds.ts';

/** These are as short as they can be. */
const options = { limits: { ...LIMITS, least: 0 }, aac: aacProgram };
async function decoded(bytes: Uint8Array): Promise<Decoded> {
  const done = await decode(bytes, options);
  if (!done.ok) throw new Error(done.problem.sentence);
  return done.value;
}
const problemOf = async (bytes: Uint8Array) => {
  const done = await decode(bytes, options);
  return done.ok ? null : done.problem;
};

const sum = ([left, right]: Float32Array[]): Float32Array => left!.map((x, i) => x + right![i]!);

describe('every kind of file that couples bring', () => {
  it.each(keptFiles)('$name: rate, channels, and its music to the sample', async (file) => {
    const { samples, ...facts } = await decoded(await bytesOf(file.name));
    const { name, format, rate, channels, length, before } = file;
    expect(facts).toMatchObject({ format, rate, channels });
    const truth = passage(rate, channels).channels;
    for (const [c, heard] of samples.channels.entries()) {
      expect(heard).toHaveLength(length);
      // Of two channels parametric stereo keeps their sum.
      const [sung, got] = name.startsWith('he2') ? [sum(truth), sum(samples.channels)] : [truth[c]!, heard];
      const at = (by: number) => likeness(sung.subarray(0, length - before), got, before + by);
      expect(at(0)).toBeGreaterThan(0.94);
      for (const by of [-40, -10, -3, 3, 10, 40]) expect(at(by), `${by} samples later`).toBeLessThan(at(0));
    }
  });

  // Decoders that are not ours. ffmpeg's leaves the delay in of HE-AAC and of what comes in fragments.
  it.skipIf(!hasFfmpeg).each(keptFiles)(
    `$name: the same samples as ffmpeg's${without}`,
    async ({ name, format, channels }) => {
      const bytes = await bytesOf(name);
      const { samples } = await decoded(bytes);
      const theirs = decodedByFfmpeg(bytes, channels, format === 'opus' ? ['-c:a', 'libopus'] : []);
      const skip = name.includes('fragments')
        ? 1024
        : name.startsWith('he') && name.endsWith('m4a')
          ? -3018
          : 0;
      for (const [c, mine] of samples.channels.entries()) {
        let [sum, count, most] = [0, 0, 0];
        for (let i = Math.max(0, -skip) + 4096; i < mine.length - 4096 && i + skip < theirs[c]!.length; i++) {
          const by = Math.abs(mine[i]! - theirs[c]![i + skip]!);
          sum += by * by;
          most = Math.max(most, by);
          count += 1;
        }
        expect(count).toBeGreaterThan(1000);
        // Decoders round apart, and the upper half of HE-AAC is rebuilt.
        const near = name.startsWith('he') ? 1e-4 : 2e-5;
        expect(Math.sqrt(sum / count)).toBeLessThan(near);
      }
    },
  );
});

describe('what is said of a file that ends early, or holds something else', () => {
  const half = (bytes: Uint8Array) => bytes.slice(0, bytes.length * 0.4);
  const cases: [string, () => Promise<Uint8Array>, string, RegExp][] = [
    ['Apple Lossless', () => bytesOf('lossless.m4a'), 'other codec', /Apple Lossless.*WAV or MP3/],
    [
      'a bare AAC stream with no two frames',
      async () => (await bytesOf('lc-44100-stereo.aac')).slice(0, 250),
      'damaged',
      /damaged/,
    ],
  ];
  it.each(cases)('%s', async (_, bytes, code, sentence) => {
    const problem = await problemOf(await bytes());
    expect(problem?.code).toBe(code);
    expect(problem?.sentence).toMatch(sentence);
  });

  it('an M4A whose table comes first says how much of it is there', async () => {
    const long = await bytesOf('song.m4a');
    const whole = await decoded(long);
    expect(whole.duration).toBeGreaterThan(30);
    // Its table comes last: what is left is no more than the coded sound.
    expect(await problemOf(half(long))).toMatchObject({
      code: 'cut off',
      sentence: 'This file ends in the middle of the song. Copy or download it again.',
    });
  });

  it.skipIf(!hasFfmpeg)(`and one in fragments, that it ends early${without}`, async () => {
    const song = await bytesOf('song.m4a');
    const first = convert(song, 'm4a', ['-c', 'copy', '-movflags', '+faststart']);
    expect(await problemOf(half(first))).toMatchObject({
      code: 'cut off',
      sentence: expect.stringMatching(/ends early: 0:1\d of 0:3\d are there/),
    });
    const fragments = convert(song, 'm4a', [
      '-c',
      'copy',
      '-movflags',
      '+frag_keyframe+delay_moov',
      '-frag_duration',
      '2000000',
    ]);
    expect((await decoded(fragments)).duration).toBeCloseTo((await decoded(song)).duration, 0);
    expect(await problemOf(half(fragments))).toMatchObject({ code: 'cut off' });
  });

  it.skipIf(!hasFfmpeg)(`tags and a cover change nothing of the sound${without}`, async () => {
    const bytes = await bytesOf('lc-44100-stereo.m4a');
    const plain = await decoded(bytes);
    const tagged = convert(bytes, 'm4a', [
      '-c',
      'copy',
      '-metadata',
      'title=ffmpeg knows no moof',
      '-metadata',
      'comment=mdat',
    ]);
    expect(await decoded(tagged)).toEqual(plain);
  });

  it('an M4A without an edit list, but with a tag that says as much, is trimmed as by one', async () => {
    const bytes = await bytesOf('lc-22050-mono.m4a');
    const plain = await decoded(bytes);
    // 34 frames: before, after and of the music.
    const tagged = withTag(bytes, [1024, 34 * 1024 - 1024 - 33_075, 33_075]);
    expect(await decoded(tagged)).toEqual(plain);
    // One that does not add up is of another file.
    expect((await decoded(withTag(bytes, [2112, 0, 33_075]))).samples.channels[0]).toHaveLength(34 * 1024);
  });

  it('damage in the middle of an M4A is silence, and the rest keeps its place', async () => {
    const bytes = await bytesOf('lc-44100-stereo.m4a');
    const plain = await decoded(bytes);
    const hurt = bytes.slice();
    hurt.fill(0xff, bytes.length / 2, bytes.length / 2 + 300);
    const done = await decoded(hurt);
    expect(done.duration).toBe(plain.duration);
    const tail = (sound: Decoded) => sound.samples.channels[0]!.subarray(-8000);
    expect(likeness(tail(plain), tail(done))).toBeGreaterThan(0.999);
  });
});

/** The file with its edit list out of sight, and a tag of a player's at the end of its table, which is last in the file. */
function withTag(file: Uint8Array, numbers: number[]): Uint8Array {
  const words = (text: string) => Buffer.from(text, 'latin1');
  const box = (type: string, ...bodies: Buffer[]): Buffer => {
    const body = Buffer.concat(bodies);
    const size = Buffer.alloc(4);
    size.writeUInt32BE(body.length + 8);
    return Buffer.concat([size, words(type), body]);
  };
  const none = Buffer.alloc(4);
  const hex = [0, ...numbers].map((n) => n.toString(16).toUpperCase().padStart(8, '0'));
  const data = box('data', Buffer.from([0, 0, 0, 1]), none, words(` ${hex.join(' ')}`));
  const entry = box(
    '----',
    box('mean', none, words('com.example')),
    box('name', none, words('iTunSMPB')),
    data,
  );
  const tag = box('udta', box('meta', none, box('ilst', entry)));
  const whole = Buffer.concat([file, tag]);
  const moov = whole.indexOf('moov') - 4;
  whole.writeUInt32BE(whole.length - moov, moov);
  whole.write('free', whole.indexOf('edts'));
  // The one that ffmpeg wrote would be found first.
  const other = whole.indexOf('udta');
  if (other < file.length) whole.write('free', other);
  return new Uint8Array(whole);
}
