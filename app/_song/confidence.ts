/**
 * A confidence in words. Those below 0.7 ask the person; the border between the other two is common practice, no source.
 */
export type Certainty = 'sure' | 'fairly sure' | 'please check';

export const certainty = (confidence: number): Certainty =>
  confidence >= 0.9 ? 'sure' : confidence >= 0.7 ? 'fairly sure' : 'please check';
