import { beforeAll, describe, expect, it } from 'vitest';
import { choicesOf, questionOf } from '../../../lib/core/song/ask.ts';
import { type Correction, SAID } from '../../../lib/core/song/evidence.ts';
import { framesOf } from '../../../lib/core/song/frames.ts';
import { grid as gridSchema } from '../../../lib/core/song/grid.ts';
import { hearAgain } from '../../../lib/core/song/hearAgain.ts';
import { eventF } from '../../../lib/core/song/metrics.ts';
import { type Hearable, hearable } from '../../../lib/core/song/readings.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { dice, plainForm, type Synthesised, synth } from '../../kit/synth.ts';

const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
const micros = (t: number) => recordTime(wholeMicros(t));

/** A waltz that breathes by 8 %, after 8 s of silence. */
let song: Synthesised;
let again: Hearable;
const END = 200;
beforeAll(() => {
  song = synth({ bpm: 132, beats: 3, subdivision: 2, sections: plainForm, drift: 0.08, lead: 8 });
  again = hearable(framesOf(song.samples, () => {}));
}, 120_000);

const heard = (said: readonly Correction[]) => {
  const { grid, ...rest } = hearAgain(again, END, null, said)!;
  expect(gridSchema.safeParse(grid).error).toBeUndefined();
  return { grid, bars: grid.bars.map((i) => grid.beats[i]!), ...rest };
};
/** Eight taps from a bar line on, 30 ms off by chance and all late. */
const taps = (late: number, seed = 1, from = 60): Correction => {
  const random = dice(seed);
  const times = song.beats.slice(from, from + 8).map((t) => micros(t + late + 0.03 * normal(random)));
  return { ...SAID, kind: 'beats', times: times.sort((a, b) => a - b), fromOne: true, byHand: true };
};
const barsRight = (bars: readonly number[]): number => eventF(song.bars, bars, 0.04);

describe('a recording heard again', () => {
  it.each([0, 0.075, 0.15])('after eight taps that come %d s late: right to the end within 40 ms', (late) => {
    const { bars, grid, late: found } = heard([taps(late, 3)]);
    expect(grid.beatsPerBar).toBe(3);
    expect(barsRight(bars)).toBeGreaterThan(0.97);
    expect(Math.abs(found[0]! - late)).toBeLessThan(0.05);
  });

  it('after taps of which two are wrong', () => {
    const said = taps(0.06, 5);
    const times = said.times.map((t, i) => (i === 3 || i === 6 ? micros(t + 0.15) : t));
    expect(barsRight(heard([{ ...said, times }]).bars)).toBeGreaterThan(0.97);
  });

  it('after one "a bar starts here", which moves the bars wherever it is', () => {
    const second = song.bars.map((_, i) => song.beats[3 * i + 1]!);
    const at = micros(second[20]! + 0.05);
    const { grid, bars } = heard([{ ...SAID, kind: 'bars', times: [at], byHand: true }]);
    const said = bars.some((t) => Math.abs(t - second[20]!) < 0.04);
    expect(said).toBe(true);
    expect(grid.held?.bars).toHaveLength(1);
  });

  it('in the metre that is said', () => {
    const { grid } = heard([{ ...SAID, kind: 'metre', metre: { beatsPerBar: 4, subdivision: 2 } }]);
    expect(grid.beatsPerBar).toBe(4);
    const steps = grid.bars.slice(1).map((bar, i) => bar - grid.bars[i]!);
    expect(steps.filter((step) => step === 4).length / steps.length).toBeGreaterThan(0.9);
  });

  it('twice as fast, where that is said', () => {
    const { grid } = heard([{ ...SAID, kind: 'pace', interval: 30 / 132 }]);
    expect(grid.beats.length).toBeGreaterThan(1.8 * song.beats.length);
  });

  it('without counts where they were stopped', () => {
    const [from, to] = [micros(song.beats[90]! + 0.1), micros(song.beats[110]! - 0.1)];
    const { grid } = heard([{ ...SAID, kind: 'stop', times: [from, to] }]);
    expect(grid.beats.filter((t) => t > from && t < to)).toEqual([]);
    expect(grid.waits).toHaveLength(1);
  });

  it('with beats where somebody tapped in silence, and only there', () => {
    const times = Array.from({ length: 8 }, (_, i) => micros(2 + (60 / 132) * i));
    const { grid } = heard([{ ...SAID, kind: 'beats', times, byHand: true }]);
    for (const t of times) expect(grid.beats.some((beat) => Math.abs(beat - t) < 0.05)).toBe(true);
    expect(grid.beats.some((t) => t < 1.5)).toBe(false);
  });

  it('hears the same with three taps as with none', () => {
    const few = { ...taps(0.05), times: taps(0.05).times.slice(0, 3), fromOne: false };
    expect(barsRight(heard([few]).bars)).toBe(barsRight(heard([]).bars));
  });

  it('asks nothing when it is sure, and after an answer is surer than before', () => {
    const { readings } = heard([
      taps(0.05),
      { ...SAID, kind: 'metre', metre: { beatsPerBar: 3, subdivision: 2 } },
    ]);
    expect(readings[0]!.odds).toBeGreaterThanOrEqual(heard([]).readings[0]!.odds);
    expect(readings.reduce((sum, { odds }) => sum + odds, 0)).toBeLessThanOrEqual(1 + 1e-9);
    if (readings[0]!.odds >= 0.9) expect(questionOf(readings)).toBeNull();
  });
});

describe('the one question', () => {
  const beats = Array.from({ length: 120 }, (_, i) => 0.5 * i);
  const reading = (beatsPerBar: 2 | 3 | 4, firstBar: number, odds: number) => ({
    ...{ beatsPerBar, subdivision: 2 as const, firstBar, odds, beats, tempo: 120 },
    play: { change: 1, stray: 1, wait: 1 },
  });

  it('is for the one, where only that is in doubt, at a moment on which the readings part', () => {
    const question = questionOf([reading(4, 0, 0.55), reading(4, 2, 0.45)]);
    expect(question?.about).toBe('one');
    if (question?.about === 'one') expect((question.at / 0.5) % 4).toBe(0);
  });

  it('is for the count, where that is in doubt and the one is not', () => {
    const question = questionOf([reading(2, 0, 0.4), reading(4, 0, 0.35), reading(3, 0, 0.25)]);
    expect(question?.about).toBe('count');
  });

  it('is none where one reading has nine in ten', () => {
    expect(questionOf([reading(3, 0, 0.93), reading(4, 0, 0.07)])).toBeNull();
  });

  it('offers each count once, the likeliest first', () => {
    const choices = choicesOf([
      reading(4, 0, 0.4),
      reading(3, 0, 0.35),
      reading(4, 2, 0.2),
      reading(2, 0, 0.001),
    ]);
    expect(choices.map(({ beatsPerBar }) => beatsPerBar)).toEqual([4, 3]);
    expect(choices[0]!.odds).toBeCloseTo(0.6, 9);
  });
});
