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
  eachMixedBlock(samples, (block, from) => mono.set(block, from));
  return mono;
}

/**
 * The same block by block, so that it need not be held as a whole.
 * @param use is given the block and the sample at which it begins; what it is given is written over by the next
 */
export function eachMixedBlock(samples: Samples, use: (block: Float64Array, from: number) => void): void {
  const channels = cancels(samples.channels) ? samples.channels.slice(0, 1) : samples.channels;
  const room = new Float64Array(BLOCK);
  const length = lengthOf(samples);
  for (let from = 0; from < length; from += BLOCK) {
    const block = room.subarray(0, Math.min(BLOCK, length - from));
    mix(block, channels, from);
    use(block, from);
  }
}

function mix(block: Float64Array, channels: readonly Float32Array[], from: number): void {
  const [one, two = one] = channels;
  const done = one && two && channels.length <= 2 && mixPair(block, one, two, from);
  if (!done) mixAny(block, channels, from);
}

/** The mean of two channels, in half the time of `mixAny`; false as soon as it is not finite. */
function mixPair(block: Float64Array, one: Float32Array, two: Float32Array, from: number): boolean {
  for (let i = 0, at = from; i < block.length; i++, at++) {
    const y = 0.5 * (one[at]! + two[at]!);
    if (y - y !== 0) return false;
    block[i] = y;
  }
  return true;
}

function mixAny(block: Float64Array, channels: readonly Float32Array[], from: number): void {
  block.fill(0);
  for (const channel of channels) {
    for (let i = 0; i < block.length; i++) {
      const x = channel[from + i]!;
      if (Number.isFinite(x)) block[i]! += x / channels.length;
    }
  }
}

/** The mean of all channels from a sample on, `length` values of `by` samples taken together; silence beyond either end. */
export function monoFrom({ channels }: Samples, first: number, length: number, by: number): Float32Array {
  const share = 1 / (channels.length * by);
  const out = new Float32Array(length);
  for (const channel of channels) {
    const from = Math.max(0, Math.ceil(-first / by));
    const to = Math.min(length, Math.floor((channel.length - first) / by));
    if (by === 4) addFours(channel, first, out, from, to, share);
    else addMany(channel, first, by, out, from, to, share);
  }
  return out;
}

/** `addMany` for the usual 44.1 and 48 kHz: half the time. */
function addFours(
  x: Float32Array,
  first: number,
  out: Float32Array,
  from: number,
  to: number,
  share: number,
): void {
  for (let i = from, at = first + 4 * from; i < to; i++, at += 4)
    out[i]! += (x[at]! + x[at + 1]! + (x[at + 2]! + x[at + 3]!)) * share;
}

function addMany(
  x: Float32Array,
  first: number,
  by: number,
  out: Float32Array,
  from: number,
  to: number,
  share: number,
): void {
  for (let i = from, at = first + by * from; i < to; i++) {
    let sum = 0;
    for (let k = 0; k < by; k++, at++) sum += x[at]!;
    out[i]! += sum * share;
  }
}

function cancels(channels: readonly Float32Array[]): boolean {
  if (channels.length < 2) return false;
  const room = new Float64Array(BLOCK);
  let parts = 0;
  let whole = 0;
  const length = channels[0]!.length;
  for (let from = 0; from < length; from += LOOK_EVERY * BLOCK) {
    const block = room.subarray(0, Math.min(BLOCK, length - from));
    mix(block, channels, from);
    whole += energyOf(block);
    for (const channel of channels) {
      mix(block, [channel], from);
      parts += energyOf(block) / channels.length;
    }
  }
  return whole < CANCELS_BELOW * parts;
}

/** The sum of the squares of some of it, from one place to before another. */
export function energyOf(block: Float64Array, from = 0, to = block.length): number {
  let [even, odd] = [0, 0];
  let i = from;
  // Two sums, for each addition waits for the one before.
  for (; i + 1 < to; i += 2) {
    even += block[i]! * block[i]!;
    odd += block[i + 1]! * block[i + 1]!;
  }
  return even + odd + (i < to ? block[i]! * block[i]! : 0);
}
