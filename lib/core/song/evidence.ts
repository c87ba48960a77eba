import { z } from '../zod.ts';
import { confirmer, storedRecordTime } from './grid.ts';
import { type Places, placesOfAll } from './places.ts';

export const metre = z.object({
  beatsPerBar: z.union([z.literal(2), z.literal(3), z.literal(4)]),
  subdivision: z.union([z.literal(2), z.literal(3)]),
});
export type Metre = z.infer<typeof metre>;

/**
 * What a person said of the beats and bars, as they said it. The grid is heard again with all of these; they are kept, so that a later
 * one, or another person's, adds to them.
 * - `beats`: tapped, one a beat; `bars`: where bars begin; `not bars`: where none does
 * - `stop`: [from, to], without counts
 * - `metre`, `pace`: said of the whole song
 */
export const correction = z.object({
  kind: z.enum(['beats', 'bars', 'not bars', 'stop', 'metre', 'pace']),
  /** Seconds of record time, ascending; none of what is said of the whole song. */
  times: z.array(storedRecordTime).check(z.maxLength(2000)),
  /** The first of the beats is a one. */
  fromOne: z.boolean(),
  /** By a hand while the music played: some 30 ms off, and all of it late by as much as sound and hand are. */
  byHand: z.boolean(),
  metre: z.nullable(metre),
  /** Seconds from beat to beat. */
  interval: z.nullable(z.number().check(z.minimum(0.1), z.maximum(4))),
  /** How sure it is that each of the times is meant, 0 to 1. */
  sure: z.number().check(z.minimum(0), z.maximum(1)),
  by: confirmer,
});
export type Correction = z.infer<typeof correction>;

/** All fields but the kind as they are where nothing else is said. */
export const SAID: Omit<Correction, 'kind'> = {
  times: [],
  fromOne: false,
  byHand: false,
  metre: null,
  interval: null,
  sure: 0.95,
  by: null,
};

type Kept = Correction & { id: string };

/** Bar lines said within so many seconds of one another are about one bar. */
const ONE_BAR = 1.2;

/**
 * Which of the corrections a new one overrules: the same said of the whole song, beats tapped over the same passage, a bar line within
 * a bar of it. Another pace overrules all beats that were tapped: they say that something else is counted.
 * @returns their ids
 */
export function overruled(kept: readonly Kept[], said: Correction): string[] {
  const [from, to] = [said.times[0] ?? 0, said.times.at(-1) ?? 0];
  return kept
    .filter((one) => {
      if (said.kind === 'metre') return one.kind === 'metre';
      if (said.kind === 'pace') return one.kind === 'pace' || one.kind === 'beats';
      if (said.kind === 'beats') {
        return one.kind === 'pace' || (one.kind === 'beats' && within(one, from, to));
      }
      if (said.kind === 'stop') return one.kind === 'stop' && within(one, from, to);
      const isBar = one.kind === 'bars' || one.kind === 'not bars';
      return isBar && one.times.some((t) => said.times.some((now) => Math.abs(t - now) < ONE_BAR));
    })
    .map(({ id }) => id);
}

const within = ({ times }: Correction, from: number, to: number): boolean =>
  times.some((t) => t >= from && t <= to) || (times[0]! <= from && times.at(-1)! >= to);

/** The same at the same music in another recording; null where it has no place there. */
export function movedCorrection(said: Correction, places: Places): Correction | null {
  const times = placesOfAll(said.times, places);
  return times && { ...said, times };
}
