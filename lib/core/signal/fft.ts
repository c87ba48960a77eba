/**
 * Power spectra of real frames. A frame of `size` real samples is packed as size/2 complex ones and transformed by an iterative
 * FFT in passes of radix 4 (Cooley and Tukey 1965; after an opening pass of radix 8 where size/2 is no power of 4); the spectrum
 * of the real frame is unpacked from it as powers at once.
 */
export class Spectrum {
  private readonly half: number;
  private readonly radix: 4 | 8;
  private readonly order: Uint32Array;
  private readonly weights: Float64Array;
  private readonly cos: Float64Array;
  private readonly sin: Float64Array;

  /**
   * @param size a power of two, 8 to 16,384
   * @param window `size` factors
   */
  constructor(
    readonly size: number,
    window: Float32Array,
  ) {
    if (size < 8 || size > LARGEST || (size & (size - 1)) !== 0)
      throw new Error(`FFT size ${size} is not a power of two from 8 to ${LARGEST}`);
    this.half = size / 2;
    this.radix = Math.log2(this.half) % 2 === 0 ? 4 : 8;
    this.order = inReversedOrder(this.half / this.radix);
    // Half of the power is taken off by the window, so that nothing below needs halving.
    this.weights = Float64Array.from(window, (factor) => Math.fround(factor * Math.SQRT1_2));
    const turn = (k: number): number => (2 * Math.PI * k) / size;
    this.cos = Float64Array.from({ length: this.half / 2 + 1 }, (_, k) => 2 * Math.cos(turn(k)));
    this.sin = Float64Array.from({ length: this.half / 2 + 1 }, (_, k) => Math.sin(turn(k)));
  }

  /**
   * Windows `signal[start .. start+size)` (silence beyond either end) and writes size/2 + 1 powers |X|^2 to `out`, bin k at
   * k * rate / size Hz.
   */
  powers(signal: Float32Array, start: number, out: Float32Array): void {
    if (start >= 0 && start + this.size <= signal.length) {
      transform(signal, start, this.weights, this.order, this.radix);
    } else {
      for (let i = 0; i < this.size; i++) EDGE[i] = signal[start + i] ?? 0;
      transform(EDGE, 0, this.weights, this.order, this.radix);
    }
    unpack(out, this.half, this.cos, this.sin);
  }
}

/**
 * Room to work in and tables that all sizes share; each call leaves nothing in it that the next one needs. They are constants of the
 * module because the engine then knows where they lie: a third faster than arrays handed on.
 */
const LARGEST = 16384;
const RE = new Float64Array(LARGEST / 2);
const IM = new Float64Array(LARGEST / 2);
const EDGE = new Float32Array(LARGEST);
/** By the width at which the passes begin. */
const TURNS_FROM_FOUR = turnsFrom(4);
const TURNS_FROM_EIGHT = turnsFrom(8);

/** The powers of a real frame, from Z = E + iO with E and O the spectra of its even and its odd samples: |E + wO|^2 and |E - wO|^2. */
function unpack(out: Float32Array, half: number, cos: Float64Array, sin: Float64Array): void {
  out[0] = 2 * (RE[0]! + IM[0]!) ** 2;
  out[half] = 2 * (RE[0]! - IM[0]!) ** 2;
  for (let k = 1, m = half - 1; k <= m; k++, m--) {
    const reK = RE[k]!;
    const imK = IM[k]!;
    const reM = RE[m]!;
    const imM = IM[m]!;
    const powerK = reK * reK + imK * imK;
    const powerM = reM * reM + imM * imM;
    const cross = cos[k]! * (reK * imM + imK * reM) - sin[k]! * (powerK - powerM);
    const sum = powerK + powerM;
    // Rounding must not leave less than nothing.
    out[k] = sum > -cross ? sum + cross : 0;
    out[m] = sum > cross ? sum - cross : 0;
  }
}

function transform(
  x: Float32Array,
  start: number,
  weights: Float64Array,
  order: Uint32Array,
  radix: 4 | 8,
): void {
  if (radix === 4) openWithFour(x, start, weights, order);
  else openWithEight(x, start, weights, order);
  joinFrom(radix, order.length * radix, radix === 4 ? TURNS_FROM_FOUR : TURNS_FROM_EIGHT);
}

/** Windows and fetches the samples in digit-reversed order and does the first two stages: sums and quarter turns only. */
function openWithFour(x: Float32Array, start: number, weights: Float64Array, order: Uint32Array): void {
  const apart = 2 * order.length;
  for (let group = 0, o = 0; group < order.length; group++, o += 4) {
    const a = 2 * order[group]!;
    const b = a + apart;
    const c = b + apart;
    const d = c + apart;
    const re0 = x[start + a]! * weights[a]!;
    const im0 = x[start + a + 1]! * weights[a + 1]!;
    const re1 = x[start + b]! * weights[b]!;
    const im1 = x[start + b + 1]! * weights[b + 1]!;
    const re2 = x[start + c]! * weights[c]!;
    const im2 = x[start + c + 1]! * weights[c + 1]!;
    const re3 = x[start + d]! * weights[d]!;
    const im3 = x[start + d + 1]! * weights[d + 1]!;
    const sumRe = re0 + re2;
    const sumIm = im0 + im2;
    const offRe = re0 - re2;
    const offIm = im0 - im2;
    const sumRe2 = re1 + re3;
    const sumIm2 = im1 + im3;
    const offRe2 = re1 - re3;
    const offIm2 = im1 - im3;
    RE[o] = sumRe + sumRe2;
    IM[o] = sumIm + sumIm2;
    RE[o + 1] = offRe + offIm2;
    IM[o + 1] = offIm - offRe2;
    RE[o + 2] = sumRe - sumRe2;
    IM[o + 2] = sumIm - sumIm2;
    RE[o + 3] = offRe - offIm2;
    IM[o + 3] = offIm + offRe2;
  }
}

/** The same with the first three stages: an eighth of a turn is all that is multiplied by. */
function openWithEight(x: Float32Array, start: number, weights: Float64Array, order: Uint32Array): void {
  const apart = 2 * order.length;
  for (let group = 0, o = 0; group < order.length; group++, o += 8) {
    let a = 2 * order[group]!;
    const re0 = x[start + a]! * weights[a]!;
    const im0 = x[start + a + 1]! * weights[a + 1]!;
    a += apart;
    const re1 = x[start + a]! * weights[a]!;
    const im1 = x[start + a + 1]! * weights[a + 1]!;
    a += apart;
    const re2 = x[start + a]! * weights[a]!;
    const im2 = x[start + a + 1]! * weights[a + 1]!;
    a += apart;
    const re3 = x[start + a]! * weights[a]!;
    const im3 = x[start + a + 1]! * weights[a + 1]!;
    a += apart;
    const re4 = x[start + a]! * weights[a]!;
    const im4 = x[start + a + 1]! * weights[a + 1]!;
    a += apart;
    const re5 = x[start + a]! * weights[a]!;
    const im5 = x[start + a + 1]! * weights[a + 1]!;
    a += apart;
    const re6 = x[start + a]! * weights[a]!;
    const im6 = x[start + a + 1]! * weights[a + 1]!;
    a += apart;
    const re7 = x[start + a]! * weights[a]!;
    const im7 = x[start + a + 1]! * weights[a + 1]!;
    const evenRe0 = re0 + re4 + (re2 + re6);
    const evenIm0 = im0 + im4 + (im2 + im6);
    const evenRe1 = re0 - re4 + (im2 - im6);
    const evenIm1 = im0 - im4 - (re2 - re6);
    const evenRe2 = re0 + re4 - (re2 + re6);
    const evenIm2 = im0 + im4 - (im2 + im6);
    const evenRe3 = re0 - re4 - (im2 - im6);
    const evenIm3 = im0 - im4 + (re2 - re6);
    const oddRe0 = re1 + re5 + (re3 + re7);
    const oddIm0 = im1 + im5 + (im3 + im7);
    const re15 = re1 - re5 + (im3 - im7);
    const im15 = im1 - im5 - (re3 - re7);
    const oddRe2 = re1 + re5 - (re3 + re7);
    const oddIm2 = im1 + im5 - (im3 + im7);
    const re37 = re1 - re5 - (im3 - im7);
    const im37 = im1 - im5 + (re3 - re7);
    const oddRe1 = Math.SQRT1_2 * (re15 + im15);
    const oddIm1 = Math.SQRT1_2 * (im15 - re15);
    const oddRe3 = Math.SQRT1_2 * (im37 - re37);
    const oddIm3 = -Math.SQRT1_2 * (re37 + im37);
    RE[o] = evenRe0 + oddRe0;
    IM[o] = evenIm0 + oddIm0;
    RE[o + 1] = evenRe1 + oddRe1;
    IM[o + 1] = evenIm1 + oddIm1;
    RE[o + 2] = evenRe2 + oddIm2;
    IM[o + 2] = evenIm2 - oddRe2;
    RE[o + 3] = evenRe3 + oddRe3;
    IM[o + 3] = evenIm3 + oddIm3;
    RE[o + 4] = evenRe0 - oddRe0;
    IM[o + 4] = evenIm0 - oddIm0;
    RE[o + 5] = evenRe1 - oddRe1;
    IM[o + 5] = evenIm1 - oddIm1;
    RE[o + 6] = evenRe2 - oddIm2;
    IM[o + 6] = evenIm2 + oddRe2;
    RE[o + 7] = evenRe3 - oddRe3;
    IM[o + 7] = evenIm3 - oddIm3;
  }
}

/** In place: joins transforms of `width` values, four at a time, until one is left. */
function joinFrom(first: number, n: number, turns: Float64Array): void {
  for (let width = first, t = 0; width < n; width *= 4) {
    for (let j = 0; j < width; j++, t += 6) {
      const cos1 = turns[t]!;
      const sin1 = turns[t + 1]!;
      const cos2 = turns[t + 2]!;
      const sin2 = turns[t + 3]!;
      const cos3 = turns[t + 4]!;
      const sin3 = turns[t + 5]!;
      for (let a = j; a < n; a += 4 * width) {
        const b = a + width;
        const c = b + width;
        const d = c + width;
        const re1 = RE[b]! * cos1 - IM[b]! * sin1;
        const im1 = RE[b]! * sin1 + IM[b]! * cos1;
        const re2 = RE[c]! * cos2 - IM[c]! * sin2;
        const im2 = RE[c]! * sin2 + IM[c]! * cos2;
        const re3 = RE[d]! * cos3 - IM[d]! * sin3;
        const im3 = RE[d]! * sin3 + IM[d]! * cos3;
        const sumRe = RE[a]! + re2;
        const sumIm = IM[a]! + im2;
        const offRe = RE[a]! - re2;
        const offIm = IM[a]! - im2;
        const sumRe2 = re1 + re3;
        const sumIm2 = im1 + im3;
        const offRe2 = re1 - re3;
        const offIm2 = im1 - im3;
        RE[a] = sumRe + sumRe2;
        IM[a] = sumIm + sumIm2;
        RE[b] = offRe + offIm2;
        IM[b] = offIm - offRe2;
        RE[c] = sumRe - sumRe2;
        IM[c] = sumIm - sumIm2;
        RE[d] = offRe - offIm2;
        IM[d] = offIm + offRe2;
      }
    }
  }
}

/** For each place in each pass from a width on, cosine and sine of the turns of the second, third and fourth value. */
function turnsFrom(first: number): Float64Array {
  const turns: number[] = [];
  for (let width = first; width < LARGEST / 2; width *= 4) {
    for (let j = 0; j < width; j++) {
      for (let value = 1; value < 4; value++) {
        const angle = (-2 * Math.PI * j * value) / (4 * width);
        turns.push(Math.cos(angle), Math.sin(angle));
      }
    }
  }
  return Float64Array.from(turns);
}

/** The numbers below n, a power of 4, with their digits to the base 4 reversed. */
function inReversedOrder(n: number): Uint32Array {
  return Uint32Array.from({ length: n }, (_, i) => {
    let reversed = 0;
    for (let k = 1, rest = i; k < n; k *= 4, rest >>= 2) reversed = 4 * reversed + (rest & 3);
    return reversed;
  });
}
