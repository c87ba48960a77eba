/** Both are multiples of every group asked for: eight bars of two or four, and eight of three. */
const OF_TWOS = 32;
const OF_THREES = 24;

/** A list laid upon itself every so many places, so that what any place of any bar holds on the mean is told in a few steps. */
export class Fold {
  readonly all: number;
  readonly deviation: number;
  private readonly count: number;
  private readonly total: number;
  private readonly twos: Laid;
  private readonly threes: Laid;

  constructor(values: Float64Array) {
    const count = values.length;
    let total = 0;
    for (let i = 0; i < count; i++) total += values[i]!;
    const all = count === 0 ? 0 : total / count;
    let square = 0;
    for (let i = 0; i < count; i++) square += (values[i]! - all) ** 2;
    this.all = all;
    this.deviation = count === 0 ? 0 : Math.sqrt(square / count);
    this.count = count;
    this.total = total;
    this.twos = laid(values, OF_TWOS);
    this.threes = laid(values, OF_THREES);
  }

  /** Mean of every `step`-th value from `first`; `step` divides 32 or 24. */
  mean(step: number, first: number): number {
    const { sums, counts } = this.laidFor(step);
    const n = sumOf(counts, step, first);
    return n === 0 ? 0 : sumOf(sums, step, first) / n;
  }

  /** The same, less the mean of all others, in deviations of all. */
  standsOut(step: number, first: number): number {
    const { sums, counts } = this.laidFor(step);
    const n = sumOf(counts, step, first);
    const rest = this.count - n;
    if (n === 0 || rest === 0) return 0;
    const sum = sumOf(sums, step, first);
    return (sum / n - (this.total - sum) / rest) / (this.deviation + 1e-6);
  }

  private laidFor(step: number): Laid {
    return OF_TWOS % step === 0 ? this.twos : this.threes;
  }
}

interface Laid {
  sums: Float64Array;
  counts: Float64Array;
}

function sumOf(values: Float64Array, step: number, first: number): number {
  let sum = 0;
  for (let i = first % step; i < values.length; i += step) sum += values[i]!;
  return sum;
}

function laid(values: Float64Array, width: number): Laid {
  const sums = new Float64Array(width);
  const counts = new Float64Array(width);
  for (let i = 0; i < values.length; i++) {
    sums[i % width]! += values[i]!;
    counts[i % width]!++;
  }
  return { sums, counts };
}
