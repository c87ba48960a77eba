/** The low-pass reaches this many output samples to either side. */
const REACH = 6;

/**
 * Keeps every `factor`-th sample after a Blackman-windowed sinc low-pass at 0.4 of the new rate. The filter is symmetric: output i
 * stands at the time of input i * factor, with no delay. Made for listening, not for playing: stop band about -60 dB.
 */
export function decimate(signal: Float32Array, factor: number): Float32Array {
  if (factor === 1) return signal;
  const taps = halfOfLowPass(factor);
  const reach = taps.length - 1;
  const out = new Float32Array(Math.ceil(signal.length / factor));
  for (let i = 0; i < out.length; i++) {
    const centre = i * factor;
    let y = taps[0]! * signal[centre]!;
    if (centre >= reach && centre + reach < signal.length) {
      // The reach is a multiple of three.
      for (let j = 1, a = centre - 1, b = centre + 1; j <= reach; j += 3, a -= 3, b += 3)
        y +=
          taps[j]! * (signal[a]! + signal[b]!) +
          taps[j + 1]! * (signal[a - 1]! + signal[b + 1]!) +
          taps[j + 2]! * (signal[a - 2]! + signal[b + 2]!);
    } else {
      for (let j = 1; j <= reach; j++)
        y += taps[j]! * ((signal[centre - j] ?? 0) + (signal[centre + j] ?? 0));
    }
    out[i] = y;
  }
  return out;
}

/** The middle tap and those to one side of it; with both sides they add up to 1. */
function halfOfLowPass(factor: number): Float64Array {
  const reach = REACH * factor;
  const cutoff = 0.8 / factor;
  const taps = new Float64Array(reach + 1);
  let sum = 0;
  for (let j = 0; j <= reach; j++) {
    const x = Math.PI * j * cutoff;
    const phase = (Math.PI * j) / reach;
    const window = 0.42 + 0.5 * Math.cos(phase) + 0.08 * Math.cos(2 * phase);
    taps[j] = window * (j === 0 ? 1 : Math.sin(x) / x);
    sum += (j === 0 ? 1 : 2) * taps[j]!;
  }
  return taps.map((tap) => tap / sum);
}
