import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { AudioBench } from '../../../app/_client/audioBench.ts';
import type { HeardSong } from '../../../app/_client/audioWork.ts';
import { copyWords } from '../../../app/_handover/copyWords.ts';
import { decode } from '../../../lib/codec/decode.ts';
import { encodeWav } from '../../../lib/codec/wav.ts';
import { type Edit, playsWhole, wholeSong } from '../../../lib/core/edit/edit.ts';
import type { SongPlan } from '../../../lib/core/edit/floorScore.ts';
import type { Result } from '../../../lib/core/result.ts';
import { lengthOf } from '../../../lib/core/signal/samples.ts';
import { floorTime, wholeMicros } from '../../../lib/core/units.ts';
import { cutOut, fadeAt } from '../../kit/board.ts';
import { dice, plainForm, synth } from '../../kit/synth.ts';

const song = synth({ bpm: 120, beats: 4, subdivision: 2, sections: plainForm, drums: true });
const file = encodeWav(song.samples, 16);
const bytes = () => file.slice().buffer;
const silent = () => {};

function value<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problem.sentence);
  return result.value;
}
const samplesOf = async (blob: Blob) => value(await decode(new Uint8Array(await blob.arrayBuffer()))).samples;

describe('the audio worker’s bench', () => {
  const bench = new AudioBench();
  const stages: string[] = [];
  let heard: HeardSong;
  let plan: SongPlan;

  beforeAll(async () => {
    value(await bench.do('load', { bytes: bytes() }, silent));
    heard = value(await bench.do('hear', {}, ({ words }) => stages.push(words)));
    plan = {
      grid: heard.grid!,
      sections: heard.sections.map((section, i) => ({ ...section, id: `s${i}` })),
      phraseBars: 4,
      duration: heard.recording.duration,
      lastSound: heard.heard!.lastSound,
    };
  }, 60_000);

  it('knows a recording by the SHA-256 of its bytes', () => {
    expect(heard.recording.id).toBe(createHash('sha256').update(file).digest('hex'));
    expect(heard.recording).toMatchObject({ rate: 22050, channels: 1, format: 'wav', bytes: file.length });
  });

  it('hears a grid, and says on the way what it listens for', () => {
    expect(heard.heard?.tempo).toBeCloseTo(120, 0);
    expect(heard.grid?.beatsPerBar).toBe(4);
    expect(new Set(stages).size).toBeGreaterThan(2);
  });

  it('proposes edits near the length that is asked for', async () => {
    const given = { song: plan, features: heard.features, wishes: { target: 70, within: 10 } };
    const proposals = value(await bench.do('propose', given, silent));
    expect(proposals.length).toBeGreaterThan(0);
    expect(Math.abs(proposals[0]!.floorLength - 70)).toBeLessThanOrEqual(15);
  });

  it('makes a finished file of exactly the edit’s length and a silent second', async () => {
    const edit = fadeAt(40, 8);
    const tags = { title: 'Lantern Street', artist: '', comment: '' };
    for (const as of ['wav', 'mp3'] as const) {
      const blob = value(await bench.do('finished', { edit, as, tags }, silent));
      const samples = await samplesOf(blob);
      expect(lengthOf(samples)).toBe((48 + 1) * 22050);
      const end = samples.channels[0]!.subarray(48.1 * 22050);
      expect(Math.max(...end.map(Math.abs))).toBeLessThan(1e-3);
    }
  });

  it('an excerpt is that stretch of the whole, to the sample', async () => {
    const edit = cutOut(20, 40);
    const whole = await samplesOf(value(await bench.do('music', { edit, counted: null }, silent)).file);
    const [from, to] = [floorTime(12), floorTime(28)];
    const part = await samplesOf(value(await bench.do('excerpt', { edit, from, to }, silent)));
    expect(part.channels[0]).toEqual(whole.channels[0]!.subarray(12 * 22050, 28 * 22050));
  });

  it('music to practise on is counted in by the lead that it says', async () => {
    const plain = value(await bench.do('music', { edit: wholeSong, counted: null }, silent));
    const counted = value(await bench.do('music', { edit: wholeSong, counted: plan }, silent));
    expect(plain.lead).toBe(0);
    const longer = lengthOf(await samplesOf(counted.file)) - lengthOf(await samplesOf(plain.file));
    expect(longer / 22050).toBeCloseTo(counted.lead, 4);
  });

  it('measures a join made by hand', async () => {
    const { bars, beats } = heard.grid!;
    const edit = cutOut(beats[bars[4]!]!, beats[bars[20]!]!);
    const given = { edit, grid: heard.grid!, features: heard.features };
    const measured = value(await bench.do('measure', given, silent));
    expect(measured.cuts[0]!.beatErrorMs).toBeTypeOf('number');
    expect(Math.abs(measured.cuts[0]!.from - edit.cuts[0]!.from)).toBeLessThan(0.06);
  });

  describe('a copy', () => {
    const compare = async (copy: ArrayBuffer, edits: Edit[]) =>
      value(await bench.do('compare', { bytes: copy, imprint: heard.imprint, edits }, silent));
    const finished = async (edit: Edit) => {
      const tags = { title: '', artist: '', comment: '' };
      return value(await bench.do('finished', { edit, as: 'mp3', tags }, silent)).arrayBuffer();
    };
    const now = fadeAt(60, 8);
    const older = cutOut(34, 66);

    it('of the recording is the same', async () => {
      expect((await compare(bytes(), [now])).verdict).toBe('same');
    });
    it('that is our finished file is known, and an older one told from it', async () => {
      expect((await compare(await finished(now), [now, older])).verdict).toBe('finished file');
      expect((await compare(await finished(older), [now, older])).verdict).toBe('older finished file');
    });
    it('that is the finished file of the whole song is taken for it, and so is the recording itself', async () => {
      const reader = { plays: 'finished file', whole: playsWhole(wholeSong), dj: true } as const;
      for (const copy of [await finished(wholeSong), bytes()])
        expect(copyWords(await compare(copy, [wholeSong]), reader).settled).toBe(true);
    });
    it('of another edit is only cut differently', async () => {
      expect((await compare(await finished(cutOut(50, 66)), [now, older])).verdict).toBe('cut differently');
    });
    it('of another edit of the same length is only cut differently', async () => {
      expect((await compare(await finished(cutOut(50, 82)), [now, older])).verdict).toBe('cut differently');
    });
    it('of other music is another recording', async () => {
      const sections = plainForm.map((part) => ({ ...part, chords: [...part.chords].reverse() }));
      const other = synth({ bpm: 97, beats: 3, subdivision: 2, sections, drums: true, seed: 9 });
      expect((await compare(encodeWav(other.samples, 16).buffer, [now])).verdict).toBe('another recording');
    });
  });
});

describe('what is no song', () => {
  const refused = async (given: Uint8Array<ArrayBuffer>) => {
    const bench = new AudioBench();
    const loaded = await bench.do('load', { bytes: given.slice().buffer }, silent);
    const result = loaded.ok ? await bench.do('hear', {}, silent) : loaded;
    return result.ok ? null : result.problem.sentence;
  };
  const wav = (seconds: number, of: (i: number) => number) =>
    encodeWav(
      { rate: 22050, channels: [Float32Array.from({ length: seconds * 22050 }, (_, i) => of(i))] },
      16,
    );
  const text = (words: string) => new TextEncoder().encode(words) as Uint8Array<ArrayBuffer>;

  it('is refused with one sentence each', async () => {
    const sentences = await Promise.all([
      refused(new Uint8Array(0)),
      refused(text('These are only words.\n'.repeat(100))),
      refused(wav(3, (i) => Math.sin(i / 8))),
      refused(wav(20, () => 0)),
      refused(
        Uint8Array.from([
          0,
          0,
          0,
          24,
          ...text('ftypisom'),
          ...text('....hdlr........vide').slice(0, 20),
          ...new Uint8Array(64),
        ]),
      ),
    ]);
    expect(sentences.every((sentence) => sentence !== null)).toBe(true);
    expect(new Set(sentences).size).toBe(5);
  });

  it('without a beat is heard, but gets no grid', async () => {
    const bench = new AudioBench();
    const random = dice(5);
    const hiss = wav(20, () => (random() - 0.5) * 0.2);
    value(await bench.do('load', { bytes: hiss.slice().buffer }, silent));
    const heard = await bench.do('hear', {}, silent);
    expect(value(heard)).toMatchObject({ grid: null, heard: null, sections: [] });
    expect(value(heard).word).not.toBe('');
  });

  it('duration is in whole microseconds, as documents hold it', async () => {
    const odd = encodeWav({ rate: 44100, channels: [new Float32Array(10 * 44100 + 1)] }, 16);
    const recording = value(await new AudioBench().do('load', { bytes: odd.slice().buffer }, silent));
    expect(recording.duration).toBe(wholeMicros(recording.duration));
  });
});
