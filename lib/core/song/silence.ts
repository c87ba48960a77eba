/** Blocks over which the level is taken, seconds. */
const BLOCK = 0.01;
/** Sound begins and ends this far below the loudest block, or at ABSOLUTE where that is higher. dB. */
const BELOW_LOUDEST = 60;
const ABSOLUTE = -75;

/** Seconds at which sound is first and last heard. */
export interface SoundEdges {
  first: number;
  last: number;
}

/** Takes the levels of mono samples that come block by block; `edges` is undefined of a silent recording. */
export function levelMeter(rate: number): {
  add: (block: Float64Array, n: number) => void;
  edges: () => SoundEdges | undefined;
} {
  const size = Math.max(1, Math.round(BLOCK * rate));
  const levels: number[] = [];
  let sum = 0;
  let summed = 0;
  let length = 0;
  const close = (): void => {
    levels.push(10 * Math.log10(sum / summed + 1e-15));
    sum = 0;
    summed = 0;
  };
  return {
    add: (block, n) => {
      length += n;
      for (let from = 0; from < n; ) {
        const to = Math.min(n, from + size - summed);
        sum += energyOf(block, from, to);
        summed += to - from;
        from = to;
        if (summed === size) close();
      }
    },
    edges: () => {
      if (summed > 0) close();
      const loudest = levels.reduce((top, level) => Math.max(top, level), Number.NEGATIVE_INFINITY);
      const threshold = Math.max(ABSOLUTE, loudest - BELOW_LOUDEST);
      if (loudest <= ABSOLUTE) return undefined;
      const first = levels.findIndex((level) => level > threshold);
      const last = levels.findLastIndex((level) => level > threshold);
      return { first: (first * size) / rate, last: Math.min(length, (last + 1) * size) / rate };
    },
  };
}

function energyOf(block: Float64Array, from: number, to: number): number {
  let energy = 0;
  for (let i = from; i < to; i++) energy += block[i]! * block[i]!;
  return energy;
}
