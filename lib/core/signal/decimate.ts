/** Side lobes of the low-pass reach this many output samples to either side. */
const REACH = 12;

/**
 * Keeps every `factor`-th sample after a Blackman-windowed sinc low-pass at 0.45 of the new rate. The filter is symmetric:
 * output i stands at the time of input i * factor, with no delay.
 */
export function decimate(signal: Float32Array, factor: number): Float32Array {
  if (factor === 1) return signal;
  const reach = REACH * factor;
  const taps = new Float64Array(2 * reach + 1);
  const cutoff = 0.9 / factor;
  let sum = 0;
  for (let i = -reach; i <= reach; i++) {
    const x = i * cutoff;
    const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    const phase = (Math.PI * (i + reach)) / reach;
    taps[i + reach] = sinc * (0.42 - 0.5 * Math.cos(phase) + 0.08 * Math.cos(2 * phase));
    sum += taps[i + reach]!;
  }
  for (let i = 0; i < taps.length; i++) taps[i]! /= sum;
  const out = new Float32Array(Math.ceil(signal.length / factor));
  for (let i = 0; i < out.length; i++) {
    const centre = i * factor;
    const low = Math.max(-reach, -centre);
    const high = Math.min(reach, signal.length - 1 - centre);
    let y = 0;
    for (let j = low; j <= high; j++) y += taps[j + reach]! * signal[centre + j]!;
    out[i] = y;
  }
  return out;
}
