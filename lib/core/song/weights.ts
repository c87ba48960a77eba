import { EVIDENCE } from './hypothesis.ts';

/**
 * How much each piece of evidence counts: logistic regression over some hundred rendered songs of several random seeds (invented
 * forms, 4/4, 3/4, 6/8, 12/8, clean and with human timing, swing, pushed chords and missing kicks), with an L2 penalty. The
 * scores are log odds, so their softmax is the confidence. Not universal truths: another body of songs would move them.
 */
const WEIGHTS: Record<(typeof EVIDENCE)[number], number> = {
  two: -3.049,
  three: 2.305,
  four: 1.958,
  six8: 0.248,
  nine8: -1.098,
  twelve8: -0.736,
  fastSimple: 3.136,
  farSimple: -0.271,
  fastCompound: -0.528,
  farCompound: -1.955,
  fastThree: 1.579,
  farThree: -2.345,
  longBar: -0.391,
  farBar: 0.339,
  onBeat: 0.768,
  covered: 4.106,
  rise: 1.013,
  lowRise: 0.115,
  divided: 0.26,
  dividedOften: 2.436,
  quartered: -0.368,
  harmonyOnBeat: 0.964,
  explained: 0.232,
  barHarmony: 1.244,
  barHarmonyWide: 0.948,
  barLow: 3.429,
  barOnset: -1.468,
  midHarmony: -0.217,
  backbeat: -0.004,
  midLow: -1.86,
  pattern: -0.055,
  patternHalf: 3.112,
  harmonyPattern: 1.295,
  harmonyFill: 0.375,
  harmonyTwice: 0.616,
  fillTwice: 0.053,
};

const ordered = EVIDENCE.map((name) => WEIGHTS[name]);

export const weigh = (evidence: readonly number[]): number =>
  evidence.reduce((sum, value, i) => sum + value * ordered[i]!, 0);
