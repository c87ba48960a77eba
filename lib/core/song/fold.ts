/** Both are multiples of every group asked for: eight bars of two or four, and eight of three. */
const OF_TWOS = 32;
const OF_THREES = 24;

/** A list laid upon itself every so many places, so that what any place of any bar holds on the mean is told in a few steps. */
export interface Fold {
  /** Mean of every `step`-th value from `first`; `step` divides 32 or 24. */
  mean(step: number, first: number): number;
  /** The same, less the mean of all others, in deviations of all. */
  standsOut(step: number, first: number): number;
  all: number;
  deviation: number;
}

export function foldOf(values: Float64Array): Fold {
  const [twos, threes] = [laid(values, OF_TWOS), laid(values, OF_THREES)];
  let total = 0;
  for (let i = 0; i < values.length; i++) total += values[i]!;
  const all = values.length === 0 ? 0 : total / values.length;
  let square = 0;
  for (let i = 0; i < values.length; i++) square += (values[i]! - all) ** 2;
  const deviation = values.length === 0 ? 0 : Math.sqrt(square / values.length);
  const sumOf = (step: number, first: number): [number, number] => {
    const { sums, counts } = OF_TWOS % step === 0 ? twos : threes;
    let [sum, n] = [0, 0];
    for (let i = first % step; i < sums.length; i += step) {
      sum += sums[i]!;
      n += counts[i]!;
    }
    return [sum, n];
  };
  return {
    all,
    deviation,
    mean(step, first) {
      const [sum, n] = sumOf(step, first);
      return n === 0 ? 0 : sum / n;
    },
    standsOut(step, first) {
      const [sum, n] = sumOf(step, first);
      const rest = values.length - n;
      return n === 0 || rest === 0 ? 0 : (sum / n - (total - sum) / rest) / (deviation + 1e-6);
    },
  };
}

function laid(values: Float64Array, width: number): { sums: Float64Array; counts: Float64Array } {
  const sums = new Float64Array(width);
  const counts = new Float64Array(width);
  for (let i = 0; i < values.length; i++) {
    sums[i % width]! += values[i]!;
    counts[i % width]!++;
  }
  return { sums, counts };
}
