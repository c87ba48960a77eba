import { describe, expect, it } from 'vitest';
import { boardFile } from '../../../lib/core/areas/boardFile.ts';
import { openOf, songAspects } from '../../../lib/core/song/confirmed.ts';
import { boardOf } from '../../kit/board.ts';

/** A file of the time when the dance had a day of its own, as JSON brings it. */
const older = (startsAt: unknown, date: string | null): unknown => {
  const { time: _time, afterMidnight: _late, ...show } = boardOf().show!;
  const board = boardOf();
  return JSON.parse(JSON.stringify({ ...board, plan: { ...board.plan, date }, show: { ...show, startsAt } }));
};
const read = (file: unknown) => {
  const { plan, show } = boardFile.parse(file);
  return [plan.date, show!.time, show!.afterMidnight];
};

describe('a board file of the older shape', () => {
  it('keeps the time of the dance; the day is the party’s', () => {
    expect(read(older('2027-06-12T20:30:00', '2027-06-12'))).toEqual(['2027-06-12', '20:30:00', null]);
    expect(read(older('2027-06-13T00:30', '2027-06-12'))).toEqual(['2027-06-12', '00:30', true]);
    expect(read(older('2026-01-01T20:30', '2027-06-12'))).toEqual(['2027-06-12', '20:30', null]);
    expect(read(older(null, '2027-06-12'))).toEqual(['2027-06-12', null, null]);
  });

  it('says the party’s day where nothing else does', () => {
    expect(read(older('2027-06-12T20:30', null))).toEqual(['2027-06-12', '20:30', null]);
    expect(read(older('2028-03-01T00:30', null))).toEqual(['2028-02-29', '00:30', true]);
  });

  it('is refused for what it was refused for', () => {
    for (const no of [null, 'board', [], {}, { show: { startsAt: 1 } }])
      expect(boardFile.safeParse(no).success).toBe(false);
  });
});

const today = boardOf();
/** A board's file as the version before wrote it: one name for all of the grid, one for all sections. */
function beforeAspects(gridBy: string | null, sectionsBy: string | null) {
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
  expect(boardFile.parse(beforeAspects('Marta', 'Marta'))).toEqual(today);
  expect(openOf(boardFile.parse(beforeAspects('Marta', null)).plan).map(({ about }) => about)).toEqual([
    'sections',
  ]);
  expect(openOf(boardFile.parse(beforeAspects(null, null)).plan).map(({ about }) => about)).toEqual(
    songAspects,
  );
});

it.each([
  ['a number for a name', { ...today.plan, grid: { ...today.plan.grid, confirmedBy: 3 } }],
  ['sections that are none', { ...today.plan, sections: [3] }],
  ['no plan', null],
])('a file of no version is refused: %s', (_, plan) => {
  expect(boardFile.safeParse({ ...today, plan }).success).toBe(false);
});
