import { type CopyStanding, copyProblem, copyStanding } from '../../agreed/copy.ts';
import type { Rule } from '../finding.ts';
import { nowhere } from '../words.ts';

export const rule: Rule = {
  id: 'copy-differs',
  about: 'handover',
  severity: 'blocks',
  reads: ['plan', 'answer'],
  what: 'What the DJ has loaded is not what is to be played: another recording, another cut, another speed, an older file.',
  why: 'Every time and every cue would be somewhere else.',
  todo: 'Give the DJ the finished file.',
  source: 'design',
  fixes: [],
  run({ board }) {
    const standing = copyStanding(board);
    if (standing.kind !== 'does not fit') return [];
    const { why, ratio, confidence } = standing;
    return [
      {
        place: nowhere,
        figures: { why, ratio, confidence },
        sentence: `${subjectOf(standing)} ${copyProblem(standing)}. ${todoOf(standing)}`,
        // The music is the same: at another tempo, or from the file that was to be played anyway.
        ...(why === 'another speed' || why === 'finished file' ? { severity: 'warns' as const } : {}),
      },
    ];
  },
};

type Misfitting = Extract<CopyStanding, { kind: 'does not fit' }>;

const subjectOf = ({ why }: Misfitting): string =>
  why === 'older finished file' || why === 'whole recording' ? 'What the DJ has loaded' : 'The DJ’s copy';

const todoOf = ({ why }: Misfitting): string =>
  why === 'finished file'
    ? 'If that is what they play, the DJ says so on their page.'
    : 'Give the DJ the finished file.';
