/** Middle value; the mean of the two middle ones for an even number; 0 of nothing. */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/** Linear interpolation between order statistics; `share` 0 to 1. */
export function quantile(values: ArrayLike<number>, share: number): number {
  const sorted = Float64Array.from(values).sort();
  if (sorted.length === 0) return 0;
  const at = share * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (sorted[high]! - sorted[low]!) * (at - low);
}

/** 0 of nothing. */
export function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return values.length === 0 ? 0 : sum / values.length;
}

/** Population standard deviation. */
export function deviation(values: ArrayLike<number>): number {
  const middle = mean(values);
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += (values[i]! - middle) ** 2;
  return values.length === 0 ? 0 : Math.sqrt(sum / values.length);
}

/** Cosine of the angle between two vectors; 1 where both are nothing, 0 where one is. */
export function cosine(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i++) {
    ab += a[i]! * b[i]!;
    aa += a[i]! * a[i]!;
    bb += b[i]! * b[i]!;
  }
  if (aa === 0 && bb === 0) return 1;
  return aa === 0 || bb === 0 ? 0 : ab / Math.sqrt(aa * bb);
}

/** `below[k]` becomes the sum of the values before k, so that the sum over a stretch is a difference of two. */
export function runningSums(values: Float32Array, below: Float64Array): void {
  let sum = 0;
  let k = 0;
  // Four at a time: each addition to `sum` waits for the one before.
  for (; k + 3 < values.length; k += 4) {
    const one = values[k]!;
    const two = one + values[k + 1]!;
    const three = two + values[k + 2]!;
    below[k + 1] = sum + one;
    below[k + 2] = sum + two;
    below[k + 3] = sum + three;
    sum += three + values[k + 3]!;
    below[k + 4] = sum;
  }
  for (; k < values.length; k++) {
    sum += values[k]!;
    below[k + 1] = sum;
  }
}
