import { EVIDENCE } from './hypothesis.ts';
import { BIAS, OUT, WEIGHTS } from './weightsFitted.ts';

const UNITS = OUT.length;
/** One row a unit, so that a hypothesis is read once for each. */
const rows = OUT.map((_, u) => Float64Array.from(EVIDENCE, (name) => WEIGHTS[name]![u + 1]!));
const direct = Float64Array.from(EVIDENCE, (name) => WEIGHTS[name]![0]!);

/**
 * How much the evidence speaks for a hypothesis: log odds, up to a constant that is the same for all hypotheses of all songs. A
 * network of one hidden layer: straight through, and through units that hear combinations, such as a strong second beat in a bar of four.
 */
export function weigh(evidence: Float64Array): number {
  let score = 0;
  for (let i = 0; i < direct.length; i++) score += direct[i]! * evidence[i]!;
  for (let u = 0; u < UNITS; u++) {
    const row = rows[u]!;
    let sum = BIAS[u]!;
    for (let i = 0; i < row.length; i++) sum += row[i]! * evidence[i]!;
    score += OUT[u]! * Math.tanh(sum);
  }
  return score;
}
