import { EVIDENCE } from './hypothesis.ts';

/**
 * How much each piece of evidence counts: logistic regression over some hundred rendered songs of several random seeds (invented
 * forms, 4/4, 3/4, 6/8, 12/8, clean and with human timing, swing, pushed chords and missing kicks), with an L2 penalty. The
 * scores are log odds, so their softmax is the confidence. Not universal truths: another body of songs would move them.
 */
const WEIGHTS: Record<(typeof EVIDENCE)[number], number> = {
  two: -3.007,
  three: 2.132,
  four: 2.164,
  six8: 0.29,
  nine8: -1.219,
  twelve8: -0.729,
  fastSimple: 3.164,
  farSimple: -0.724,
  fastCompound: 0.001,
  farCompound: -2.587,
  fastThree: 2.434,
  farThree: -1.921,
  longBar: -0.645,
  farBar: 0.054,
  onBeat: 0.844,
  covered: 4.127,
  rise: 1.15,
  lowRise: 0.065,
  divided: 0.442,
  dividedOften: 2.582,
  quartered: -0.588,
  harmonyOnBeat: 0.601,
  explained: 0.2,
  barHarmony: 1.427,
  barHarmonyWide: 0.534,
  barLow: 3.376,
  barOnset: -1.921,
  midHarmony: -0.724,
  backbeat: 0,
  midLow: -1.887,
  pattern: 0.454,
  patternHalf: 2.671,
  harmonyPattern: 1.556,
  harmonyFill: 0.556,
  harmonyTwice: 0.211,
  fillTwice: 0.091,
};

const ordered = EVIDENCE.map((name) => WEIGHTS[name]);

export const weigh = (evidence: readonly number[]): number =>
  evidence.reduce((sum, value, i) => sum + value * ordered[i]!, 0);
