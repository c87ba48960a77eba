import { describe, expect, it } from 'vitest';
import type { Board } from '../../../lib/core/areas/board.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import type { Day } from '../../../lib/core/calendar.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { basicOf } from '../../../lib/core/dance/basics.ts';
import { learned } from '../../../lib/core/dance/kinds.ts';
import { links } from '../../../lib/core/dance/library/links.ts';
import { laidOut } from '../../../lib/core/dance/place.ts';
import { barAt, boardOf, libraryMove, placed } from '../../kit/board.ts';

const link = links.find(({ id }) => id === 'link-weight-three-3')!;
const moves = ['waltz-underarm', 'waltz-box', 'waltz-left-box'].map(libraryMove);

/** A figure and a link on the sheet. */
const board = (more: Partial<Board['plan']> = {}): Board =>
  boardOf(
    {},
    {
      moves: [link, ...moves],
      placed: [placed('p0', 'waltz-underarm', barAt(24)), placed('p1', link.id, barAt(40))],
      ...more,
    },
  );
const idsOf = (of: Board, day: Day) => checkBoard(of, day).map(({ id }) => id);

describe('a link', () => {
  it('stands on the sheet, and is none of the moves that the couple learn', () => {
    const { plan } = board();
    expect(laidOut(plan, boardScore(plan)!).map(({ move }) => move.id)).toEqual(['waltz-underarm', link.id]);
    expect(learned(plan.moves).map(({ id }) => id)).toEqual([
      'waltz-box',
      'waltz-left-box',
      'waltz-underarm',
    ]);
  });

  it('is never said to be new shortly before the day', () => {
    const found = idsOf(board(), '2027-06-08');
    expect(found).toContain('not-ready:waltz-underarm');
    expect(found).not.toContain(`not-ready:${link.id}`);
  });

  it('does not make one move two', () => {
    expect(idsOf(board(), '2027-01-01')).toContain('one-move');
    const two = [placed('p0', 'waltz-underarm', barAt(24)), placed('p1', 'waltz-left-box', barAt(40))];
    expect(idsOf(board({ placed: two }), '2027-01-01')).not.toContain('one-move');
  });

  it('does not decide which basic is danced', () => {
    const own = { ...libraryMove('waltz-box'), id: 'own-basic', name: 'Our basic', dance: 'own' as const };
    const many = [own, ...moves, ...links.filter(({ metre }) => metre === 3)];
    expect(links.every(({ dance }) => dance === own.dance)).toBe(true);
    expect(basicOf(board({ moves: many }).plan)?.id).toBe('waltz-box');
  });
});
