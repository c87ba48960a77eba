/** A second-order section with a0 = 1. */
export interface Biquad {
  b: readonly [number, number, number];
  a: readonly [number, number];
}

/**
 * The two stages of K-weighting (ITU-R BS.1770-4, annex 1) at any sample rate. The standard prints coefficients for 48 kHz only;
 * these come from the analogue filters behind them by the bilinear transform, and equal the printed ones at 48 kHz to nine digits.
 */
export function kWeighting(rate: number): [Biquad, Biquad] {
  const shelf = { hertz: 1681.974450955533, q: 0.7071752369554196, gain: 10 ** (3.999843853973347 / 20) };
  const k = Math.tan((Math.PI * shelf.hertz) / rate);
  const band = shelf.gain ** 0.4996667741545416;
  const a0 = 1 + k / shelf.q + k * k;
  const first: Biquad = {
    b: [
      (shelf.gain + (band * k) / shelf.q + k * k) / a0,
      (2 * (k * k - shelf.gain)) / a0,
      (shelf.gain - (band * k) / shelf.q + k * k) / a0,
    ],
    a: [(2 * (k * k - 1)) / a0, (1 - k / shelf.q + k * k) / a0],
  };
  const pass = { hertz: 38.13547087602444, q: 0.5003270373238773 };
  const m = Math.tan((Math.PI * pass.hertz) / rate);
  const c0 = 1 + m / pass.q + m * m;
  return [first, { b: [1, -2, 1], a: [(2 * (m * m - 1)) / c0, (1 - m / pass.q + m * m) / c0] }];
}
