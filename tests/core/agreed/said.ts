import { djPrinted } from '../../../lib/core/agreed/djPrinted.ts';
import { currentDigest, type Plays, playedEdit } from '../../../lib/core/agreed/played.ts';
import type { CopyCheck, DjAnswer } from '../../../lib/core/areas/answer.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { barAt, boardOf, cueAt, cutOut, endingOn, libraryMove, micros } from '../../kit/board.ts';

/** A board of which all that a DJ reads is filled in. */
export const filled = (more: Partial<Plan> = {}): Board => {
  const board = boardOf(
    {},
    {
      moves: ['waltz-box', 'dip-three'].map(libraryMove),
      cues: [
        cueAt('a', barAt(8), 'lanterns'),
        cueAt('b', barAt(47), 'until'),
        cueAt('c', barAt(88), 'windows'),
        cueAt('d', barAt(108), 'homeward'),
      ],
      edit: cutOut(barAt(48), barAt(88)),
      ending: {
        ...endingOn(barAt(108), ['dip-three']),
        target: { kind: 'cue word', at: micros(barAt(108)), cue: 'd' },
      },
      walkOn: {
        ...usualWalkOn,
        from: 'the garden door',
        firstStep: micros(barAt(8)),
        signal: 'the MC’s nod',
      },
      ...more,
    },
  );
  return { ...board, show: { ...board.show!, time: '19:30', after: 'the cake' } };
};

/** What the page writes for a yes to the board as it is. */
export const answerTo = (board: Board, more: Partial<DjAnswer> = {}): DjAnswer => {
  const plays = more.plays ?? 'finished file';
  return {
    id: 'a1',
    kind: 'yes',
    at: '2027-05-02T10:00:00.000Z' as const,
    by: 'Rae',
    plays,
    digest: currentDigest(board.plan)!,
    edit: playedEdit(board.plan),
    covers: djPrinted(board, plays),
    words: '',
    proposal: null,
    ...more,
  };
};

/** The board with a yes to it. */
export const saidYes = (board: Board, plays: Plays = 'finished file'): Board => ({
  ...board,
  answer: { ...board.answer!, plays, answers: [answerTo(board, { plays })] },
});

export const checkedAs = (board: Board, more: Partial<CopyCheck>): Board => ({
  ...board,
  answer: {
    ...board.answer!,
    copy: {
      verdict: 'same',
      offsetMs: 0,
      ratio: 1,
      confidence: 0.9,
      at: '2027-05-03T10:00:00.000Z' as const,
      recording: board.plan.recording!.id,
      digest: currentDigest(board.plan)!,
      ...more,
    },
  },
});
