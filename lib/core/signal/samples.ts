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
/** Whether the channels cancel is looked at in one block of so many. */
const LOOK_EVERY = 8;
/** Samples that are mixed at a time: few enough to stay in the processor's nearest memory. */
export const BLOCK = 1024;

/**
 * The mean of all channels, with NaN and infinities read as silence. Where the channels cancel each other (one is wired
 * upside down), the first channel stands for all.
 */
export function mixdown(samples: Samples): Float32Array {
  const mono = new Float32Array(lengthOf(samples));
  eachMixedBlock(samples, (block, n, from) => {
    for (let i = 0; i < n; i++) mono[from + i] = block[i]!;
  });
  return mono;
}

/**
 * The same block by block, so that it need not be held as a whole.
 * @param use is given the block, how many of its values count, and the sample at which they begin
 */
export function eachMixedBlock(
  samples: Samples,
  use: (block: Float64Array, n: number, from: number) => void,
): void {
  const channels = cancels(samples.channels) ? samples.channels.slice(0, 1) : samples.channels;
  const block = new Float64Array(BLOCK);
  const length = lengthOf(samples);
  for (let from = 0; from < length; from += BLOCK) {
    const n = Math.min(BLOCK, length - from);
    mix(block, channels, from, n);
    use(block, n, from);
  }
}

function mix(block: Float64Array, channels: readonly Float32Array[], from: number, n: number): void {
  let sum = 0;
  block.fill(0);
  for (let c = 0; c < channels.length; c += 2) {
    const one = channels[c]!;
    // The last of an odd number is its own neighbour.
    const two = channels[c + 1] ?? one;
    sum += addPair(block, one, two, (two === one ? 0.5 : 1) / channels.length, from, n);
  }
  if (!Number.isFinite(sum)) mixFinite(block, channels, from, n);
}

/** Returns the sum of what it added: NaN or infinite if any sample is. */
function addPair(
  block: Float64Array,
  one: Float32Array,
  two: Float32Array,
  share: number,
  from: number,
  n: number,
): number {
  let sum = 0;
  for (let i = 0, at = from; i < n; i++, at++) {
    const y = (one[at]! + two[at]!) * share;
    block[i]! += y;
    sum += y;
  }
  return sum;
}

function mixFinite(block: Float64Array, channels: readonly Float32Array[], from: number, n: number): void {
  block.fill(0);
  for (const channel of channels) {
    for (let i = 0; i < n; i++) {
      const x = channel[from + i]!;
      if (Number.isFinite(x)) block[i]! += x / channels.length;
    }
  }
}

function cancels(channels: readonly Float32Array[]): boolean {
  if (channels.length < 2) return false;
  let parts = 0;
  let whole = 0;
  const length = channels[0]!.length;
  for (let from = 0; from < length; from += LOOK_EVERY * BLOCK) {
    for (let i = from; i < Math.min(length, from + BLOCK); i++) {
      let sum = 0;
      let squares = 0;
      for (const channel of channels) {
        const x = channel[i]!;
        if (!Number.isFinite(x)) continue;
        sum += x;
        squares += x * x;
      }
      parts += squares / channels.length;
      whole += (sum / channels.length) ** 2;
    }
  }
  return whole < CANCELS_BELOW * parts;
}
