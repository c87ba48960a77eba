/** Counts of the steps of common rhythms: a slow is two counts, a quick one. */
export const ONES = (counts: number): number[] => Array.from({ length: counts }, () => 1);
export const SQQ = [2, 1, 1];
export const SQQ_SQQ = [...SQQ, ...SQQ];
export const SSQQ = [2, 2, 1, 1];
/** "1 2, 3 and 4, 5 and 6" and "1 2, 3 and 4, 5 6, 7 and 8". */
export const SIX_TRIPLES = [1, 1, 0.5, 0.5, 1, 0.5, 0.5, 1];
export const EIGHT_TRIPLES = [1, 1, 0.5, 0.5, 1, 1, 1, 0.5, 0.5, 1];
/** "2 3, 4 and 1", twice. */
export const TWO_THREE_CHA = [1, 1, 0.5, 0.5, 1, 1, 1, 0.5, 0.5, 1];
