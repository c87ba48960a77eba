/**
 * Power spectra of real frames. A frame of `size` real samples is packed as size/2 complex ones, transformed by an iterative
 * radix-2 FFT (Cooley and Tukey 1965) and unpacked; half the work of a complex transform.
 */
export type PowerSpectrum = (signal: Float32Array, start: number, out: Float32Array) => void;

/**
 * Makes a function that windows `signal[start .. start+size)` (silence beyond either end) and writes size/2 + 1 powers |X|^2
 * to `out`, bin k at k * rate / size Hz.
 * @param size a power of two, at least 4
 * @param window `size` factors
 */
export function powerSpectrum(size: number, window: Float32Array): PowerSpectrum {
  if (size < 4 || (size & (size - 1)) !== 0) throw new Error(`FFT size ${size} is not a power of two`);
  const half = size / 2;
  const re = new Float64Array(half);
  const im = new Float64Array(half);
  const order = bitReversed(half);
  const cos = new Float64Array(half);
  const sin = new Float64Array(half);
  for (let i = 0; i < half; i++) {
    cos[i] = Math.cos((2 * Math.PI * i) / size);
    sin[i] = -Math.sin((2 * Math.PI * i) / size);
  }
  return (signal, start, out) => {
    if (start >= 0 && start + size <= signal.length) {
      for (let i = 0, at = start; i < half; i++, at += 2) {
        const to = order[i]!;
        re[to] = signal[at]! * window[2 * i]!;
        im[to] = signal[at + 1]! * window[2 * i + 1]!;
      }
    } else {
      for (let i = 0, at = start; i < half; i++, at += 2) {
        const to = order[i]!;
        re[to] = (signal[at] ?? 0) * window[2 * i]!;
        im[to] = (signal[at + 1] ?? 0) * window[2 * i + 1]!;
      }
    }
    transform(re, im, cos, sin, size);
    out[0] = (re[0]! + im[0]!) ** 2;
    out[half] = (re[0]! - im[0]!) ** 2;
    for (let k = 1; k <= half / 2; k++) {
      const m = half - k;
      const evenRe = (re[k]! + re[m]!) / 2;
      const evenIm = (im[k]! - im[m]!) / 2;
      const oddRe = (im[k]! + im[m]!) / 2;
      const oddIm = (re[m]! - re[k]!) / 2;
      const turnRe = oddRe * cos[k]! - oddIm * sin[k]!;
      const turnIm = oddRe * sin[k]! + oddIm * cos[k]!;
      out[k] = (evenRe + turnRe) ** 2 + (evenIm + turnIm) ** 2;
      out[m] = (evenRe - turnRe) ** 2 + (evenIm - turnIm) ** 2;
    }
  };
}

/** In place, input in bit-reversed order. The first two stages need no multiplication and are done as one. */
function transform(
  re: Float64Array,
  im: Float64Array,
  cos: Float64Array,
  sin: Float64Array,
  size: number,
): void {
  const n = re.length;
  if (n === 2) {
    addAndSubtract(re, im);
    return;
  }
  for (let a = 0; a < n; a += 4) {
    const [sumRe, sumIm] = [re[a]! + re[a + 1]!, im[a]! + im[a + 1]!];
    const [offRe, offIm] = [re[a]! - re[a + 1]!, im[a]! - im[a + 1]!];
    const [sumRe2, sumIm2] = [re[a + 2]! + re[a + 3]!, im[a + 2]! + im[a + 3]!];
    const [offRe2, offIm2] = [re[a + 2]! - re[a + 3]!, im[a + 2]! - im[a + 3]!];
    re[a] = sumRe + sumRe2;
    im[a] = sumIm + sumIm2;
    re[a + 1] = offRe + offIm2;
    im[a + 1] = offIm - offRe2;
    re[a + 2] = sumRe - sumRe2;
    im[a + 2] = sumIm - sumIm2;
    re[a + 3] = offRe - offIm2;
    im[a + 3] = offIm + offRe2;
  }
  // Two stages in one pass, so that each value is fetched and put back once for both.
  let width = 8;
  for (; 2 * width <= n; width *= 4) {
    const half = width / 2;
    const step = size / width;
    for (let j = 0, turn = 0; j < half; j++, turn += step) {
      const c = cos[turn]!;
      const s = sin[turn]!;
      const wideC = cos[turn / 2]!;
      const wideS = sin[turn / 2]!;
      for (let i0 = j; i0 < n; i0 += 2 * width) {
        const i1 = i0 + half;
        const i2 = i0 + width;
        const i3 = i2 + half;
        const re1 = re[i1]! * c - im[i1]! * s;
        const im1 = re[i1]! * s + im[i1]! * c;
        const re3 = re[i3]! * c - im[i3]! * s;
        const im3 = re[i3]! * s + im[i3]! * c;
        const evenRe = re[i0]! + re1;
        const evenIm = im[i0]! + im1;
        const oddRe = re[i0]! - re1;
        const oddIm = im[i0]! - im1;
        const lowRe = re[i2]! + re3;
        const lowIm = im[i2]! + im3;
        const highRe = re[i2]! - re3;
        const highIm = im[i2]! - im3;
        const xr = lowRe * wideC - lowIm * wideS;
        const xi = lowRe * wideS + lowIm * wideC;
        // A quarter turn further on.
        const yr = highRe * wideS + highIm * wideC;
        const yi = highIm * wideS - highRe * wideC;
        re[i0] = evenRe + xr;
        im[i0] = evenIm + xi;
        re[i2] = evenRe - xr;
        im[i2] = evenIm - xi;
        re[i1] = oddRe + yr;
        im[i1] = oddIm + yi;
        re[i3] = oddRe - yr;
        im[i3] = oddIm - yi;
      }
    }
  }
  if (width > n) return;
  for (let j = 0, turn = 0, half = n / 2; j < half; j++, turn += size / n) {
    const b = j + half;
    const xr = re[b]! * cos[turn]! - im[b]! * sin[turn]!;
    const xi = re[b]! * sin[turn]! + im[b]! * cos[turn]!;
    re[b] = re[j]! - xr;
    im[b] = im[j]! - xi;
    re[j]! += xr;
    im[j]! += xi;
  }
}

function addAndSubtract(re: Float64Array, im: Float64Array): void {
  const [r, i] = [re[0]!, im[0]!];
  re[0] = r + re[1]!;
  im[0] = i + im[1]!;
  re[1] = r - re[1]!;
  im[1] = i - im[1]!;
}

function bitReversed(n: number): Uint32Array {
  const order = new Uint32Array(n);
  for (let i = 1; i < n; i++) order[i] = (order[i >> 1]! >> 1) | (i & 1 ? n >> 1 : 0);
  return order;
}
