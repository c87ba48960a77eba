import { vectorModule } from './simd.ts';

/**
 * Weights of one layer, laid out so that four outputs are summed at once: for each four outputs, input by input. Outputs are filled up
 * with nothing to a multiple of four.
 */
export interface Layer {
  inputs: number;
  outputs: number;
  /** ceil(outputs / 4) x inputs x 4 */
  weights: Float32Array;
  bias: Float32Array;
}

/** Where a layer lies in a room. */
export interface Placed {
  inputs: number;
  /** Outputs filled up to a multiple of four. */
  width: number;
  weights: number;
  bias: number;
}

/** @param rows inputs x outputs, one input's weights after the other */
export function layerOf(inputs: number, outputs: number, rows: Float64Array, bias: Float64Array): Layer {
  const width = fours(outputs);
  const weights = new Float32Array(width * inputs);
  const filled = new Float32Array(width);
  filled.set(bias);
  for (let i = 0; i < inputs; i++) {
    for (let o = 0; o < outputs; o++) weights[((o >> 2) * inputs + i) * 4 + (o & 3)] = rows[i * outputs + o]!;
  }
  return { inputs, outputs, weights, bias: filled };
}

/** The next multiple of four: rows and outputs are multiplied four by four. */
export const fours = (n: number): number => (n + 3) & ~3;

/** See `Room.multiply`; all places in bytes. */
type Product = (...[from, step, rows, taps, apart, inputs, weights, bias, width, out]: number[]) => void;

/** See `Room.pool`; all places in bytes. */
type Pool = (...[from, width, group, count, kept, out]: number[]) => void;

const PAGE = 65536;

/**
 * The numbers that a net works on, in one memory that a WebAssembly function of four sums at a time (SIMD) reaches, or the plain one where
 * the engine knows no such thing. Places are counted in numbers; new ones hold 0. `floats` is another array after each place taken.
 */
export class Room {
  floats: Float32Array;
  private readonly memory = new WebAssembly.Memory({ initial: 1 });
  private readonly product: Product;
  private readonly largest: Pool;
  private end = 0;

  /** @param fast false for the plain product, as a test does that holds one against the other */
  constructor(fast = true) {
    this.floats = new Float32Array(this.memory.buffer);
    const module = fast ? vectorModule() : undefined;
    if (module) {
      const { exports } = new WebAssembly.Instance(module, { room: { memory: this.memory } });
      this.product = exports.multiply as Product;
      this.largest = exports.pool as Pool;
    } else {
      this.product = (...places) => plainProduct(this.floats, places);
      this.largest = (...places) => plainPool(this.floats, places);
    }
  }

  take(count: number): number {
    const at = this.end;
    this.end += fours(count);
    const lacking = 4 * this.end - this.memory.buffer.byteLength;
    if (lacking > 0) this.memory.grow(Math.ceil(lacking / PAGE));
    if (this.floats.buffer !== this.memory.buffer) this.floats = new Float32Array(this.memory.buffer);
    return at;
  }

  place({ inputs, weights, bias }: Layer): Placed {
    const placed = {
      ...{ inputs, width: bias.length },
      weights: this.take(weights.length),
      bias: this.take(bias.length),
    };
    this.floats.set(weights, placed.weights);
    this.floats.set(bias, placed.bias);
    return placed;
  }

  /**
   * Rows times weights and bias: row r's inputs are `taps` stretches of equal length, the first at `from + r * step` and each `apart` after
   * the one before; its outputs go to `out + r * width`.
   * @param rows a multiple of four
   */
  multiply(
    ...[from, step, rows, taps, apart, layer, out]: [number, number, number, number, number, Placed, number]
  ): void {
    const { inputs, weights, bias, width } = layer;
    if (rows === 0) return;
    this.product(
      ...([4 * from, 4 * step, rows, taps, 4 * apart] as const),
      ...([(4 * inputs) / taps, 4 * weights, 4 * bias, 4 * width, 4 * out] as const),
    );
  }

  /**
   * Rectified, the largest of each `group` rows of `width` values, of which `kept` are written one after the other; the rest of the last
   * row's `width` is written over too.
   * @param width a multiple of four
   */
  pool(
    from: number,
    { width, group, count, kept }: { width: number; group: number; count: number; kept: number },
    out: number,
  ): void {
    this.largest(4 * from, 4 * width, group, count, 4 * kept, 4 * out);
  }
}

/** The same sums one by one, in double precision until they are written. */
function plainProduct(floats: Float32Array, places: number[]): void {
  const [from, step, , , apart, inputs, weights, bias, width, out] = places.map((x) => x >> 2);
  const [rows, taps] = [places[2]!, places[3]!];
  for (let r = 0; r < rows; r++) {
    for (let o = 0, at = weights!; o < width!; o += 4) {
      let a = floats[bias! + o]!;
      let b = floats[bias! + o + 1]!;
      let c = floats[bias! + o + 2]!;
      let d = floats[bias! + o + 3]!;
      for (let t = 0; t < taps; t++) {
        for (let i = from! + r * step! + t * apart!, end = i + inputs!; i < end; i++, at += 4) {
          const x = floats[i]!;
          a += floats[at]! * x;
          b += floats[at + 1]! * x;
          c += floats[at + 2]! * x;
          d += floats[at + 3]! * x;
        }
      }
      const p = out! + r * width! + o;
      floats[p] = a;
      floats[p + 1] = b;
      floats[p + 2] = c;
      floats[p + 3] = d;
    }
  }
}

function plainPool(floats: Float32Array, places: number[]): void {
  const [from, width, , , kept, out] = places.map((x) => x >> 2);
  const [group, count] = [places[2]!, places[3]!];
  for (let n = 0; n < count; n++) {
    for (let c = 0; c < width!; c++) {
      let most = 0;
      for (let g = 0, at = from! + n * group * width! + c; g < group; g++, at += width!)
        if (floats[at]! > most) most = floats[at]!;
      floats[out! + n * kept! + c] = most;
    }
  }
}
