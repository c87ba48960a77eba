/** Decoded sound: a Float32Array a channel, all of one length, full scale at 1, at `rate` samples a second. */
export interface Samples {
  rate: number;
  channels: Float32Array[];
}

/** Seconds; 0 when there is no channel. */
export const durationOf = (samples: Samples): number => (samples.channels[0]?.length ?? 0) / samples.rate;

/** Samples in each channel. */
export const lengthOf = (samples: Samples): number => samples.channels[0]?.length ?? 0;

/** A channel pair whose mean keeps less than this share of its energy cancels itself: the first channel is used alone. */
const CANCELS_BELOW = 0.05;
/** Samples of a channel that are mixed at a time. */
const BLOCK = 4096;

/**
 * The mean of all channels, with NaN and infinities read as silence. Where the channels cancel each other (one is wired
 * upside down), the first channel stands for all.
 */
export function mixdown(samples: Samples): Float32Array {
  const length = lengthOf(samples);
  const mono = new Float32Array(length);
  const share = 1 / Math.max(1, samples.channels.length);
  let parts = 0;
  let whole = 0;
  // Block by block, so that what one channel wrote is still at hand for the next.
  for (let from = 0; from < length; from += BLOCK) {
    const to = Math.min(length, from + BLOCK);
    for (const channel of samples.channels) {
      for (let i = from; i < to; i++) {
        const x = channel[i]!;
        if (x - x !== 0) continue; // NaN and infinities
        mono[i]! += x * share;
        parts += x * x * share;
      }
    }
    for (let i = from; i < to; i++) whole += mono[i]! * mono[i]!;
  }
  const first = samples.channels[0];
  if (first && samples.channels.length > 1 && whole < CANCELS_BELOW * parts) {
    for (let i = 0; i < length; i++) mono[i] = Number.isFinite(first[i]!) ? first[i]! : 0;
  }
  return mono;
}
