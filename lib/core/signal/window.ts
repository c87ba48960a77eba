/** Periodic Hann window of `size` points. */
export function hann(size: number): Float32Array {
  const window = new Float32Array(size);
  for (let i = 0; i < size; i++) window[i] = 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size);
  return window;
}

/** The power of two nearest to `x` on a logarithmic scale. */
export const nearestPowerOfTwo = (x: number): number => 2 ** Math.round(Math.log2(Math.max(2, x)));
