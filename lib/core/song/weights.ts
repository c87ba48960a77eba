import { EVIDENCE } from './hypothesis.ts';

/**
 * How much each piece of evidence counts: logistic regression over some hundred rendered songs of several random seeds (invented
 * forms, 4/4, 3/4, 6/8, 12/8, clean and with human timing, swing, pushed chords and missing kicks), with an L2 penalty. The
 * scores are log odds, so their softmax is the confidence. Not universal truths: another body of songs would move them.
 */
const WEIGHTS: Record<(typeof EVIDENCE)[number], number> = {
  two: -3.642,
  three: 1.521,
  four: 2.301,
  six8: 0.189,
  nine8: -1.211,
  twelve8: -0.261,
  fastSimple: 4.244,
  farSimple: -1.138,
  fastCompound: -0.463,
  farCompound: -2.636,
  longBar: -0.558,
  farBar: 0.687,
  onBeat: 0.844,
  covered: 4.08,
  rise: 0.966,
  lowRise: 0.386,
  divided: 1.113,
  quartered: -0.691,
  harmonyOnBeat: 1.94,
  explained: 0.412,
  barHarmony: 2.346,
  barHarmonyWide: 0.635,
  barLow: 3.794,
  barOnset: -2.115,
  midHarmony: 0.384,
  backbeat: 0.147,
  midLow: -2.335,
  pattern: 0.57,
  patternHalf: 1.679,
  harmonyPattern: 1.013,
  harmonyFill: 0.029,
};

const ordered = EVIDENCE.map((name) => WEIGHTS[name]);

export const weigh = (evidence: readonly number[]): number =>
  evidence.reduce((sum, value, i) => sum + value * ordered[i]!, 0);
