import { beforeAll, describe, expect, it } from 'vitest';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { shape } from '../../../lib/core/edit/propose.ts';
import { render } from '../../../lib/core/edit/render.ts';
import { beatErrorAt, seamFigures, seamFinder, usualSteps } from '../../../lib/core/edit/seam.ts';
import { durationOf, mixdown } from '../../../lib/core/signal/samples.ts';
import { decodeFeatures, type FeatureTable, featuresFrom } from '../../../lib/core/song/features.ts';
import { framesOf } from '../../../lib/core/song/frames.ts';
import { byNobody } from '../../../lib/core/song/grid.ts';
import { energiesOf } from '../../../lib/core/song/loudness.ts';
import type { Features } from '../../../lib/core/song/recording.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { dice, plainForm, synth } from '../../kit/synth.ts';

const song = synth({ bpm: 112, beats: 4, subdivision: 2, rate: 22_050, drift: 0.01, sections: plainForm });
const kinds = ['intro', 'verse', 'chorus', 'verse', 'chorus', 'bridge', 'chorus'] as const;
/** A grid that strays from the true beats by up to 30 ms, as a heard one may. */
const random = dice(8);
const stray = () => 0.03 * (2 * random() - 1);
const grid = {
  beats: song.beats.map((beat) => recordTime(wholeMicros(beat + stray()))),
  bars: song.bars.map((bar) => song.beats.indexOf(bar)),
  ...({ beatsPerBar: 4, subdivision: 2, countLevel: 'beat', confirmedBy: byNobody } as const),
};
const bar = (section: number) => grid.beats[song.beats.indexOf(song.sections[section]!.start)]!;
/** Milliseconds by which a cut moves the true beat. */
function trueError(from: number, to: number): number {
  const phase = (at: number) =>
    song.beats.map((beat) => at - beat).reduce((a, b) => (Math.abs(a) < Math.abs(b) ? a : b));
  return Math.abs(phase(from) - phase(to)) * 1000;
}

let stored: Features;
let features: FeatureTable;
beforeAll(() => {
  const _mono = mixdown(song.samples);
  stored = featuresFrom(
    framesOf(song.samples, () => {}),
    energiesOf(song.samples),
  );
  features = decodeFeatures(stored);
});

describe('a seam measured from the sound', () => {
  it('is put right to well under what is heard, though the grid strays by 30 ms', () => {
    const { find } = seamFinder(song.samples, features, grid);
    for (const [from, to] of [
      [2, 4],
      [2, 6],
      [4, 6],
      [1, 3],
    ] as const) {
      const seam = find(bar(from), bar(to));
      // Friberg and Sundberg 1995: a displaced beat is just noticeable at 6 ms.
      expect(trueError(seam.from, seam.to)).toBeLessThan(2);
      expect(seam.beatErrorMs).not.toBeNull();
      // What is said is what the strayed grid lets the beats be sure to, never less than the truth.
      expect(seam.beatErrorMs!).toBeGreaterThanOrEqual(trueError(seam.from, seam.to) - 0.5);
      expect(seam.beatErrorMs!).toBeLessThanOrEqual(10);
      expect(seam.crossfade).toBe(0.03);
    }
  });

  it('goes half-way from the beat before it to the one after it where the tempo is another', () => {
    const swaying = synth({
      bpm: 96,
      beats: 4,
      subdivision: 2,
      rate: 22_050,
      drift: 0.02,
      sections: plainForm,
    });
    const table = decodeFeatures(
      featuresFrom(
        framesOf(swaying.samples, () => {}),
        energiesOf(swaying.samples),
      ),
    );
    const beats = swaying.beats.map((beat) => recordTime(wholeMicros(beat)));
    const { find } = seamFinder(swaying.samples, table, {
      ...{ ...grid, beats, bars: swaying.bars.map((at) => swaying.beats.indexOf(at)) },
    });
    const steps: number[] = [];
    // The tempo sways in 64 beats: it is highest at 16, lowest at 48.
    for (const [i, k] of [
      [48, 80],
      [32, 112],
      [80, 176],
    ] as const) {
      const [before, after] = [beats[i]! - beats[i - 1]!, beats[k + 1]! - beats[k]!];
      const seam = find(beats[i]!, beats[k]!);
      const across = seam.from - beats[i - 1]! + (beats[k]! - seam.to);
      expect(Math.abs(across - (before + after) / 2)).toBeLessThan(0.002);
      steps.push(Math.abs(before - after) / 2);
    }
    // Beats that only went on in the old tempo would have failed.
    expect(Math.max(...steps)).toBeGreaterThan(0.004);
  });

  it.each([
    ['no beat', []],
    ['one beat', [20]],
    ['beats a millisecond apart', [20, 20.001, 20.002, 20.003]],
  ])('stays where it is wanted by a grid of %s', (_, times) => {
    const beats = times.map((time) => recordTime(time));
    const bare = { ...grid, beats, bars: [] };
    const seam = seamFinder(song.samples, features, bare).find(20, 40);
    expect(seam.to - seam.from).toBeCloseTo(20, 1);
    if (times.length > 1) return;
    expect(seam.beatErrorMs).toBeNull();
    expect(beatErrorAt(song.samples, bare, 20, 40)).toBeNull();
  });

  it('says how far a beat is off where the place is wrong, and which way', () => {
    const { find } = seamFinder(song.samples, features, grid);
    const { from, to } = find(bar(4), bar(6));
    for (const ms of [0, 12, -12, 20, -20, 50, -50]) {
      const said = beatErrorAt(song.samples, grid, from, to + ms / 1000)!;
      // A place that is too late cuts the beat before the bar line short.
      expect(Math.abs(1000 * said + ms)).toBeLessThan(4);
    }
  });

  it('does not click', () => {
    const proposals = shape(
      {
        plan: {
          grid,
          sections: song.sections.map((s, i) => ({
            id: `s${i}`,
            start: bar(i),
            kind: kinds[i]!,
            like: s.like,
            name: '',
            phraseBars: null,
            confirmedBy: null,
          })),
          phraseBars: 8,
          duration: wholeMicros(durationOf(song.samples)),
          lastSound: durationOf(song.samples),
        },
        features: stored,
        samples: song.samples,
      },
      { target: 80, within: 10 },
    );
    const spliced = proposals.find((p) => p.kind === 'splice')!;
    expect(spliced.seam!.beatErrorMs!).toBeLessThan(6);
    const rendered = render(song.samples, { ...wholeSong, cuts: spliced.edit.cuts });
    if (!rendered.ok) throw new Error(rendered.problem.sentence);
    // A click is a jump from one sample to the next that the music itself does not make.
    const steepest = (x: Float32Array, from: number, to: number) => {
      let most = 0;
      for (let i = from + 1; i < to; i++) most = Math.max(most, Math.abs(x[i]! - x[i - 1]!));
      return most;
    };
    const at = Math.round(spliced.edit.cuts[0]!.from * 22_050);
    const music = steepest(song.samples.channels[0]!, 0, song.samples.channels[0]!.length);
    expect(steepest(rendered.value.channels[0]!, at - 1500, at + 1500)).toBeLessThanOrEqual(music);
  });
});

describe('a seam from the features alone', () => {
  it('from like to like is less of a step than anywhere else, and its beat is not measured', () => {
    const usual = usualSteps(features, grid);
    const like = seamFigures(features, grid, usual, bar(2), bar(4));
    const unlike = seamFigures(features, grid, usual, bar(1), bar(6) + (bar(6) - bar(5)) / 2);
    expect(like.beatErrorMs).toBeNull();
    expect(Math.abs(like.levelStepLu)).toBeLessThan(1);
    expect(like.harmony).toBeLessThan(0.3);
    expect(like.timbre).toBeLessThan(1);
    expect(unlike.harmony + unlike.timbre).toBeGreaterThan(like.harmony + like.timbre + 0.5);
  });
});
