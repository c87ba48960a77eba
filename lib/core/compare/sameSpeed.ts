/** A speed that shifts the end of a song of four minutes by less than 30 ms is none. */
const SAME_RATIO = 1.2e-4;

/** @param ratio copy duration / recording duration of the same music */
export const isSameSpeed = (ratio: number): boolean => Math.abs(ratio - 1) <= SAME_RATIO;
