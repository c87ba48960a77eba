/**
 * Weights of one layer, laid out so that four outputs are summed at once: for each four outputs, input by input. Outputs are filled up
 * with nothing to a multiple of four.
 */
export interface Layer {
  inputs: number;
  outputs: number;
  /** ceil(outputs / 4) x inputs x 4 */
  weights: Float64Array;
  bias: Float64Array;
}

/** @param rows inputs x outputs, one input's weights after the other */
export function layerOf(inputs: number, outputs: number, rows: Float64Array, bias: Float64Array): Layer {
  const fours = Math.ceil(outputs / 4);
  const weights = new Float64Array(fours * inputs * 4);
  const filled = new Float64Array(4 * fours);
  filled.set(bias);
  for (let i = 0; i < inputs; i++) {
    for (let o = 0; o < outputs; o++) weights[((o >> 2) * inputs + i) * 4 + (o & 3)] = rows[i * outputs + o]!;
  }
  return { inputs, outputs, weights, bias: filled };
}

/** Room for a product: `width` is its outputs filled up to a multiple of four. */
export const widthOf = (layer: Layer): number => 4 * Math.ceil(layer.outputs / 4);

/**
 * Rows times weights and bias: row r begins at `from + r * step` of `a`, and its outputs go to `out` from r * widthOf(layer) on. Two rows
 * by four outputs are summed at a time, in locals, which the engine keeps in registers.
 * @param rows an even number of rows, all inside `a`
 */
export function multiply(
  a: Float64Array,
  from: number,
  step: number,
  rows: number,
  { inputs, weights, bias }: Layer,
  out: Float64Array,
): void {
  const width = bias.length;
  for (let r = 0; r < rows; r += 2) {
    const first = from + r * step;
    for (let o = 0, at = 0; o < width; o += 4) {
      let a0 = bias[o]!;
      let a1 = bias[o + 1]!;
      let a2 = bias[o + 2]!;
      let a3 = bias[o + 3]!;
      let b0 = a0;
      let b1 = a1;
      let b2 = a2;
      let b3 = a3;
      for (let i = first, j = first + step, end = first + inputs; i < end; i++, j++, at += 4) {
        const x = a[i]!;
        const y = a[j]!;
        const w0 = weights[at]!;
        const w1 = weights[at + 1]!;
        const w2 = weights[at + 2]!;
        const w3 = weights[at + 3]!;
        a0 += w0 * x;
        a1 += w1 * x;
        a2 += w2 * x;
        a3 += w3 * x;
        b0 += w0 * y;
        b1 += w1 * y;
        b2 += w2 * y;
        b3 += w3 * y;
      }
      const p = r * width + o;
      out[p] = a0;
      out[p + 1] = a1;
      out[p + 2] = a2;
      out[p + 3] = a3;
      const q = p + width;
      out[q] = b0;
      out[q + 1] = b1;
      out[q + 2] = b2;
      out[q + 3] = b3;
    }
  }
}
