/**
 * Rows times weights, and the largest of several rows, as WebAssembly functions, written in the instructions themselves (WebAssembly
 * Core Specification 2.0, chapter 5, binary format; vectors of four 32-bit floats): JavaScript has no arithmetic of more than one number
 * at a time.
 */

/** Unsigned LEB128, as the format writes all counts. */
function leb(n: number): number[] {
  return n < 128 ? [n] : [(n & 127) | 128, ...leb(n >> 7)];
}

const list = (...items: number[][]): number[] => [...leb(items.length), ...items.flat()];
const sized = (bytes: number[]): number[] => [...leb(bytes.length), ...bytes];
const section = (id: number, content: number[]): number[] => [id, ...sized(content)];
const text = (name: string): number[] => sized([...new TextEncoder().encode(name)]);

const I32 = 0x7f;
const V128 = 0x7b;

const get = (local: number): number[] => [0x20, ...leb(local)];
const set = (local: number, value: number[]): number[] => [...value, 0x21, ...leb(local)];
/** Below 64: the format's numbers are signed. */
const constant = (n: number): number[] => [0x41, n];
const add = (a: number[], b: number[]): number[] => [...a, ...b, 0x6a];
/** Four bytes is what all places are aligned to. */
const ALIGNED = [2, 0];
const vector = (at: number[]): number[] => [...at, 0xfd, 0x00, ...ALIGNED];
/** One number, four times. */
const splat = (at: number[]): number[] => [...at, 0xfd, 0x09, ...ALIGNED];
const store = (at: number[], value: number[]): number[] => [...at, ...value, 0xfd, 0x0b, ...ALIGNED];
/** The greater of each pair. */
const greater = (a: number[], b: number[]): number[] => [...a, ...b, 0xfd, 0xe9, 0x01];
const addVectors = (a: number[], b: number[]): number[] => [...a, ...b, 0xfd, 0xe4, 0x01];
const multiplyVectors = (a: number[], b: number[]): number[] => [...a, ...b, 0xfd, 0xe6, 0x01];
/** At least once, and again while a < b. */
const loop = (a: number, b: number, ...body: number[][]): number[] => [
  ...[0x03, 0x40, ...body.flat(), ...get(a), ...get(b)],
  ...[0x49, 0x0d, 0, 0x0b],
];
const advance = (local: number, by: number[]): number[] => set(local, add(get(local), by));

/** Parameters in the order of `Product`, then whole numbers, then vectors. */
const [FROM, STEP, ROWS, TAPS, APART, INPUTS, WEIGHTS, BIAS, WIDTH, OUT] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9];
const [ROW, OUTPUT, AT, TAP, STRETCH, END] = [10, 11, 12, 13, 14, 15];
const PLACES = [16, 17, 18, 19] as const;
const SUMS = [20, 21, 22, 23] as const;
const WEIGHT = 24;

/** Parameters in the order of `Pool`, then whole numbers, then vectors. */
const POOL = { from: 0, width: 1, group: 2, count: 3, kept: 4, out: 5, n: 6, column: 7, place: 8, row: 9 };
const [MOST, NOTHING] = [10, 11];

function poolCode(): number[] {
  const { from, width, group, count, kept, out, n, column, place, row } = POOL;
  const columns = loop(
    column,
    width,
    set(MOST, get(NOTHING)),
    set(place, add(get(from), get(column))),
    set(row, constant(0)),
    loop(
      row,
      group,
      set(MOST, greater(get(MOST), vector(get(place)))),
      advance(place, get(width)),
      advance(row, constant(1)),
    ),
    store(add(get(out), get(column)), get(MOST)),
    advance(column, constant(16)),
  );
  const groups = loop(
    n,
    count,
    set(column, constant(0)),
    columns,
    set(row, constant(0)),
    loop(row, group, advance(from, get(width)), advance(row, constant(1))),
    advance(out, get(kept)),
    advance(n, constant(1)),
  );
  return sized([...list([4, I32], [2, V128]), ...groups, 0x0b]);
}

function productCode(): number[] {
  const inner = loop(
    PLACES[0],
    END,
    set(WEIGHT, vector(get(AT))),
    ...SUMS.map((sum, k) =>
      set(sum, addVectors(get(sum), multiplyVectors(get(WEIGHT), splat(get(PLACES[k]!))))),
    ),
    advance(AT, constant(16)),
    ...PLACES.map((place) => advance(place, constant(4))),
  );
  const stretches = loop(
    TAP,
    TAPS,
    set(PLACES[0], get(STRETCH)),
    set(END, add(get(STRETCH), get(INPUTS))),
    ...[0, 1, 2].map((k) => set(PLACES[k + 1]!, add(get(PLACES[k]!), get(STEP)))),
    inner,
    advance(STRETCH, get(APART)),
    advance(TAP, constant(1)),
  );
  const outputs = loop(
    OUTPUT,
    WIDTH,
    ...SUMS.map((sum) => set(sum, vector(add(get(BIAS), get(OUTPUT))))),
    set(TAP, constant(0)),
    set(STRETCH, get(FROM)),
    stretches,
    set(PLACES[0], add(get(OUT), get(OUTPUT))),
    ...[0, 1, 2].map((k) => set(PLACES[k + 1]!, add(get(PLACES[k]!), get(WIDTH)))),
    ...SUMS.map((sum, k) => store(get(PLACES[k]!), get(sum))),
    advance(OUTPUT, constant(16)),
  );
  const rows = loop(
    ROW,
    ROWS,
    set(OUTPUT, constant(0)),
    set(AT, get(WEIGHTS)),
    outputs,
    ...[0, 1, 2, 3].flatMap(() => [advance(FROM, get(STEP)), advance(OUT, get(WIDTH))]),
    advance(ROW, constant(4)),
  );
  const locals = list([6 + PLACES.length, I32], [SUMS.length + 1, V128]);
  return sized([...locals, ...rows, 0x0b]);
}

function moduleBytes(): Uint8Array<ArrayBuffer> {
  const taking = (count: number): number[] => [0x60, ...list(...Array(count).fill([I32])), ...list()];
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0],
    ...section(1, list(taking(10), taking(6))),
    ...section(2, list([...text('room'), ...text('memory'), 0x02, 0, 1])),
    ...section(3, list([0], [1])),
    ...section(7, list([...text('multiply'), 0, 0], [...text('pool'), 0, 1])),
    ...section(10, list(productCode(), poolCode())),
  ]);
}

let ready: WebAssembly.Module | false | undefined;

/** Undefined where the engine has no WebAssembly of vectors: it then takes the plain product. */
export function vectorModule(): WebAssembly.Module | undefined {
  if (ready === undefined) {
    const bytes = moduleBytes();
    ready = WebAssembly.validate(bytes) && new WebAssembly.Module(bytes);
  }
  return ready || undefined;
}
