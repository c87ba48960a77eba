import { beforeAll, describe, expect, it } from 'vitest';
import type { Samples } from '../../../lib/core/signal/samples.ts';
import { gridFrom } from '../../../lib/core/song/correct.ts';
import { grid as gridSchema } from '../../../lib/core/song/grid.ts';
import { type Listening, listen } from '../../../lib/core/song/listen.ts';
import { beatF, boundaryF, downbeatF, sameMusicF } from '../../../lib/core/song/metrics.ts';
import { features as featuresSchema, heard as heardSchema } from '../../../lib/core/song/recording.ts';
import { mumble, plainForm, type Synthesised, synth, whiteNoise } from '../../kit/synth.ts';

const heardIn = (samples: Samples): Listening => {
  const result = listen(samples);
  if (!result.ok) throw new Error(result.problem.sentence);
  return result.value;
};

/** Intro, verse, chorus, verse, chorus: short, so that the suite stays quick. */
const short = plainForm.slice(0, 5);

describe('a song whose beats are known because it was made here', () => {
  it.each([
    { bpm: 120, beats: 4, subdivision: 2, drums: true, drift: 0 },
    { bpm: 84, beats: 3, subdivision: 2, drums: true, drift: 0.015 },
    { bpm: 64, beats: 4, subdivision: 3, drums: true, drift: 0 },
    { bpm: 72, beats: 4, subdivision: 2, drums: false, drift: 0.02 },
    { bpm: 180, beats: 3, subdivision: 2, drums: false, drift: 0 },
  ] as const)('$bpm beats a minute, $beats a bar in $subdivision, drums $drums, drift $drift', (song) => {
    const truth = synth({ ...song, sections: short });
    const found = heardIn(truth.samples);
    expect(found.metre).toEqual({ beats: song.beats, subdivision: song.subdivision });
    expect(Math.abs(found.tempo / song.bpm - 1)).toBeLessThan(0.01);
    expect(beatF(truth.beats, found.beats)).toBeGreaterThan(0.98);
    expect(downbeatF(truth.bars, found.bars)).toBeGreaterThan(0.95);
    expect(boundaryF(truth.sections, found.sections, 0.5)).toBeGreaterThan(0.85);
    expect(sameMusicF(truth.sections, found.sections)).toBeGreaterThan(0.9);
    expect(found.key).toBe('C major');
    const errors = found.beats
      .map((t) => truth.beats.reduce((d, b) => Math.min(d, Math.abs(b - t)), 9))
      .sort((a, b) => a - b);
    expect(errors[Math.floor(0.9 * errors.length)]!).toBeLessThan(0.015);
    if (song.drift === 0) expect(found.tempoDrift).toBeLessThan(0.01);
    else expect(found.tempoDrift).toBeGreaterThan(0.005);
  });
});

describe('what is heard', () => {
  let truth: Synthesised;
  let found: Listening;
  const stages: string[] = [];
  beforeAll(() => {
    truth = synth({ bpm: 110, beats: 4, subdivision: 2, sections: short });
    const shares: number[] = [];
    const result = listen(truth.samples, (share, stage) => {
      shares.push(share);
      if (!stages.includes(stage)) stages.push(stage);
    });
    if (!result.ok) throw new Error(result.problem.sentence);
    found = result.value;
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
  }, 60_000);

  it('beats ascend, bars are beats, sections begin at bars and follow one another', () => {
    expect(found.beats).toEqual([...found.beats].sort((a, b) => a - b));
    expect(new Set(found.beats).size).toBe(found.beats.length);
    expect(found.bars.every((bar) => found.beats.includes(bar))).toBe(true);
    expect(found.sections.every((s) => found.bars.includes(s.start))).toBe(true);
    found.sections.forEach((s, i) => {
      if (i > 0) expect(s.start).toBe(found.sections[i - 1]!.end);
    });
  });

  it('fits the documents it is stored in', () => {
    expect(gridSchema.safeParse(gridFrom(found)).error?.issues ?? []).toEqual([]);
    expect(heardSchema.safeParse(found).error?.issues ?? []).toEqual([]);
    expect(featuresSchema.safeParse(found.features).success).toBe(true);
  });

  it('no beats are invented in the tail', () => {
    const tail: Samples = {
      rate: truth.samples.rate,
      channels: [new Float32Array(truth.samples.channels[0]!.length + 10 * truth.samples.rate)],
    };
    tail.channels[0]!.set(truth.samples.channels[0]!);
    const last = truth.beats.at(-1)! + 60 / 110;
    expect(heardIn(tail).beats.at(-1)!).toBeLessThan(last + 0.1);
    expect(found.beats.at(-1)!).toBeLessThan(last + 0.1);
  });

  it('silence before the song moves the beats and changes nothing else', () => {
    const { rate, channels } = truth.samples;
    const delay = 3.217;
    const later = new Float32Array(channels[0]!.length + Math.round(delay * rate));
    later.set(channels[0]!, Math.round(delay * rate));
    const moved = heardIn({ rate, channels: [later] });
    expect(moved.beats).toHaveLength(found.beats.length);
    expect(moved.metre).toEqual(found.metre);
    moved.beats.forEach((t, i) => {
      expect(Math.abs(t - found.beats[i]! - delay)).toBeLessThan(0.006);
    });
  });

  it('quieter changes nothing but the loudness', () => {
    const quiet = heardIn({ ...truth.samples, channels: [truth.samples.channels[0]!.map((x) => x * 0.1)] });
    expect(quiet.beats).toHaveLength(found.beats.length);
    quiet.beats.forEach((t, i) => {
      expect(Math.abs(t - found.beats[i]!)).toBeLessThan(0.001);
    });
    expect(quiet.sections.map((s) => [s.kind, s.like])).toEqual(found.sections.map((s) => [s.kind, s.like]));
    expect(quiet.key).toBe(found.key);
    expect(quiet.loudness - found.loudness).toBeCloseTo(-20, 1);
    expect(quiet.truePeak - found.truePeak).toBeCloseTo(-20, 1);
  });

  it('louder, up to full scale, changes nothing but the loudness', () => {
    const [channel] = truth.samples.channels;
    const gain = 1 / channel!.reduce((top, x) => Math.max(top, Math.abs(x)), 0);
    const loud = heardIn({ ...truth.samples, channels: [channel!.map((x) => x * gain)] });
    expect(loud.beats).toHaveLength(found.beats.length);
    expect(loud.metre).toEqual(found.metre);
    expect(loud.key).toBe(found.key);
    expect(loud.loudness - found.loudness).toBeCloseTo(20 * Math.log10(gain), 1);
  });

  it('the same samples played 2 % faster are the same song, its beats closer by as much', () => {
    const faster = heardIn({ ...truth.samples, rate: truth.samples.rate * 1.02 });
    expect(faster.metre).toEqual(found.metre);
    expect(faster.beats).toHaveLength(found.beats.length);
    faster.beats.forEach((t, i) => {
      expect(Math.abs(t - found.beats[i]! / 1.02)).toBeLessThan(0.008);
    });
  });

  it('the same sound in two channels is the same song, 3 LU louder (BS.1770: channels add up)', () => {
    const mono = truth.samples.channels[0]!;
    const stereo = heardIn({ ...truth.samples, channels: [mono, mono] });
    expect(stereo.beats).toEqual(found.beats);
    expect(stereo.sections).toEqual(found.sections);
    expect(stereo.loudness - found.loudness).toBeCloseTo(3.01, 2);
  });

  it('broken samples do not break it', () => {
    const broken = truth.samples.channels[0]!.slice();
    for (let i = 0; i < 200; i++) broken[1000 + 97 * i] = i % 2 ? Number.NaN : Number.POSITIVE_INFINITY;
    const result = heardIn({ ...truth.samples, channels: [broken] });
    expect(beatF(truth.beats, result.beats)).toBeGreaterThan(0.95);
    expect(Number.isFinite(result.loudness + result.truePeak + result.tempo)).toBe(true);
  });
});

describe('where there is no song', () => {
  const rate = 22050;
  const zeros = (seconds: number): Samples => ({
    rate,
    channels: [new Float32Array(Math.round(seconds * rate))],
  });
  it.each([
    ['nothing at all', { rate, channels: [] }, 'too short'],
    ['one sample', { rate, channels: [new Float32Array([0.5])] }, 'too short'],
    [
      'three seconds',
      synth({ bpm: 120, beats: 4, subdivision: 2, sections: [{ ...short[1]!, bars: 1 }] }).samples,
      'too short',
    ],
    ['silence', zeros(30), 'silent'],
    ['not a number', { rate, channels: [new Float32Array(30 * rate).fill(Number.NaN)] }, 'silent'],
    [
      'one click in silence',
      { rate, channels: [zeros(30).channels[0]!.map((_, i) => (i === 9000 ? 0.9 : 0))] },
      'no beat',
    ],
    [
      'a standing tone',
      { rate, channels: [zeros(30).channels[0]!.map((_, i) => 0.3 * Math.sin(0.1 * i))] },
      'no beat',
    ],
    ['noise', whiteNoise(40), 'no beat'],
    ['an odd sample rate', { rate: 100, channels: [new Float32Array(4000)] }, 'sample rate'],
  ] as [string, Samples, string][])('%s: a clear word', (_, samples, code) => {
    const result = listen(samples);
    expect(result).toMatchObject({ ok: false, problem: { code } });
    if (!result.ok) expect(result.problem.sentence).toMatch(/^[A-Z].*\.$/);
  });

  it.each([
    ['a constant', 22050, () => 0.5],
    ['a full-scale square wave', 22050, (i: number) => (i % 200 < 100 ? 1 : -1)],
    ['samples of alternating sign', 22050, (i: number) => (i % 2 ? -1 : 1)],
    ['far beyond full scale', 22050, (i: number) => 1e9 * Math.sin(i * i * 1e-5)],
    ['hardly anything', 22050, (i: number) => 1e-20 * Math.sin(i)],
    ['infinities between silence', 22050, (i: number) => (i % 5000 ? 0 : Number.POSITIVE_INFINITY)],
    ['the lowest rate', 8000, (i: number) => 0.3 * Math.sin(i * 0.3) * Number(i % 4000 < 400)],
    ['the highest rate', 192000, (i: number) => 0.3 * Math.sin(i * 0.01) * Number(i % 96000 < 9000)],
  ] as [string, number, (i: number) => number][])('%s ends in a result or a word', (_, rate, at) => {
    const result = listen({ rate, channels: [Float32Array.from({ length: 12 * rate }, (_, i) => at(i))] });
    if (result.ok) {
      const { beats, loudness, truePeak, tempo } = result.value;
      expect(Number.isFinite(loudness + truePeak + tempo)).toBe(true);
      expect(beats).toEqual([...beats].sort((a, b) => a - b));
    } else expect(result.problem.sentence).toMatch(/^[A-Z].*\.$/);
  });

  it.each([5, 8, 11])('speech-like rhythm (seed %i) is refused or heard with low confidence', (seed) => {
    const result = listen(mumble(40, rate, seed));
    if (result.ok) expect(result.value.confidence.beats).toBeLessThan(0.3);
    else expect(result.problem.code).toBe('no beat');
  });
});
