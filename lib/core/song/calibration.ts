/** Two-sided 90 % of the normal distribution. */
const Z = 1.6448536269514722;

/**
 * Wilson's score interval at 90 % of a share seen in `n` trials (Wilson 1927). For a mean of values between 0 and 1 it is at
 * least as wide as it needs to be, since such values vary no more than yes and no with the same mean.
 * @param share 0 to 1
 * @returns [0, 1] of no trials
 */
export function wilson(share: number, n: number): [low: number, high: number] {
  if (n === 0) return [0, 1];
  const widened = 1 + Z ** 2 / n;
  const middle = (share + Z ** 2 / (2 * n)) / widened;
  const half = (Z / widened) * Math.sqrt((share * (1 - share)) / n + Z ** 2 / (4 * n ** 2));
  return [Math.max(0, middle - half), Math.min(1, middle + half)];
}

/** How sure the program was, and how right it was: 1 or 0, or a share where more than one thing was said. Both 0 to 1. */
export interface Claim {
  said: number;
  right: number;
}

export interface CalibrationBin {
  from: number;
  to: number;
  n: number;
  /** Means over the claims in the bin. */
  said: number;
  right: number;
}

export interface Calibration {
  n: number;
  /** Expected calibration error. */
  error: number;
  /** Share of the claims that were made with less than 0.7: a confidence that never doubts says nothing. */
  doubted: number;
  /** Those that hold anything. */
  bins: CalibrationBin[];
}

const BINS = 10;
const DOUBT = 0.7;

/**
 * Whether confidences mean what they say: in ten equal bins, what was said beside what was right, and the mean distance of the
 * two weighted by the claims (expected calibration error; Naeini, Cooper and Hauskrecht 2015).
 */
export function calibrationOf(claims: readonly Claim[]): Calibration {
  const n = claims.length;
  const binOf = ({ said }: Claim): number => Math.min(BINS - 1, Math.floor(said * BINS));
  const mean = (values: readonly number[]): number => values.reduce((sum, x) => sum + x, 0) / values.length;
  const bins = Array.from({ length: BINS }, (_, i): CalibrationBin[] => {
    const held = claims.filter((claim) => binOf(claim) === i);
    if (held.length === 0) return [];
    const [said, right] = [mean(held.map((c) => c.said)), mean(held.map((c) => c.right))];
    return [{ from: i / BINS, to: (i + 1) / BINS, n: held.length, said, right }];
  }).flat();
  return {
    n,
    error: bins.reduce((sum, bin) => sum + (bin.n / n) * Math.abs(bin.said - bin.right), 0),
    doubted: n === 0 ? 0 : claims.filter(({ said }) => said < DOUBT).length / n,
    bins,
  };
}
