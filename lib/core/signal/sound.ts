import { lengthOf, type Samples } from './samples.ts';

/** Sound that comes in parts, so that a long song need not be in memory a second time. */
export interface Sound {
  /** Samples a second. */
  rate: number;
  channels: number;
  /** Samples in each channel, over all parts. */
  length: number;
  /**
   * In order, to be read once; a part has one array a channel, all of one length, and belongs to whoever takes it until they take
   * the next: its memory is used again.
   */
  parts(): Iterable<Float32Array[]>;
}

/** Samples a part. */
const PART = 65_536;

/** Samples that are at hand, as sound. */
export const asSound = (samples: Samples): Sound => ({
  rate: samples.rate,
  channels: samples.channels.length,
  length: lengthOf(samples),
  *parts() {
    for (let at = 0; at < lengthOf(samples); at += PART) {
      yield samples.channels.map((channel) => channel.slice(at, at + PART));
    }
  },
});

/** The whole sound at once. */
export function collected({ rate, channels, length, parts }: Sound): Samples {
  const whole = Array.from({ length: channels }, () => new Float32Array(length));
  let at = 0;
  for (const part of parts()) {
    for (const [c, channel] of part.entries()) whole[c]!.set(channel, at);
    at += part[0]!.length;
  }
  return { rate, channels: whole };
}

/** The same sound, telling the share that was taken, 0 to 1. */
export const reported = (sound: Sound, report: (share: number) => void): Sound => ({
  ...sound,
  *parts() {
    let at = 0;
    for (const part of sound.parts()) {
      yield part;
      at += part[0]!.length;
      report(at / sound.length);
    }
  },
});

/** The same sound with silence after it, in samples. */
export const withSilentEnd = (sound: Sound, silent: number): Sound => ({
  ...sound,
  length: sound.length + silent,
  *parts() {
    yield* sound.parts();
    if (silent > 0) yield Array.from({ length: sound.channels }, () => new Float32Array(silent));
  },
});
