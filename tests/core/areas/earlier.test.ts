import { expect, it } from 'vitest';
import { boardFile } from '../../../lib/core/areas/boardFile.ts';
import { openOf, songAspects } from '../../../lib/core/song/confirmed.ts';
import { boardOf } from '../../kit/board.ts';

const today = boardOf();
/** A board's file as the version before wrote it: one name for all of the grid, one for all sections. */
function older(gridBy: string | null, sectionsBy: string | null) {
  const { grid, sections, ...plan } = today.plan;
  return {
    ...today,
    plan: {
      ...plan,
      grid: { ...grid, confirmedBy: gridBy },
      sections: sections.map(({ confirmedBy: _, ...section }) => section),
      sectionsConfirmedBy: sectionsBy,
    },
  };
}

it('a file of today is read as it is', () => {
  expect(boardFile.parse(JSON.parse(JSON.stringify(today)))).toEqual(today);
});

it('a file of the version before is read: its names stand for each aspect and each section', () => {
  expect(boardFile.parse(older('Marta', 'Marta'))).toEqual(today);
  expect(openOf(boardFile.parse(older('Marta', null)).plan).map(({ about }) => about)).toEqual(['sections']);
  expect(openOf(boardFile.parse(older(null, null)).plan).map(({ about }) => about)).toEqual(songAspects);
});

it.each([
  ['a number for a name', { ...today.plan, grid: { ...today.plan.grid, confirmedBy: 3 } }],
  ['sections that are none', { ...today.plan, sections: [3] }],
  ['no plan', null],
])('a file of no version is refused: %s', (_, plan) => {
  expect(boardFile.safeParse({ ...today, plan }).success).toBe(false);
});
