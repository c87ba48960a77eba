import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerState } from '../../../lib/core/agreed/answerState.ts';
import { djFacts } from '../../../lib/core/agreed/dj.ts';
import { entryFacts } from '../../../lib/core/agreed/entry.ts';
import { versionNumber } from '../../../lib/core/agreed/version.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { planShape } from '../../../lib/core/areas/plan.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { showShape } from '../../../lib/core/areas/show.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { recordCounts } from '../../../lib/core/edit/recordCounts.ts';
import { nightCard } from '../../../lib/core/handover/night.ts';
import { stages } from '../../../lib/core/handover/stages.ts';
import { entryCsv } from '../../../lib/export/csv.ts';
import { entryIcs } from '../../../lib/export/ics.ts';
import { couplePdf, djPdf, entryPdf } from '../../../lib/export/pdf.ts';
import { fiveLines } from '../../../lib/export/text.ts';
import { movesVtt } from '../../../lib/export/vtt.ts';
import { boardOf, cueAt, cutOut, gridOf, micros } from '../../kit/board.ts';
import { oddBoards, refusedBy } from './boards.ts';

const today = '2027-06-01' as const;
const HAIR = 1e-6;
/** A hole in a sentence: something that was not there was put into words. */
const HOLE = /\b(undefined|NaN|Infinity|null|\[object)\b/;

function holds(board: Board): void {
  expect(refusedBy(board)).toEqual([]);
  const score = boardScore(board.plan);
  if (score) {
    const { counts, phrases, sections, length } = score;
    for (const [i, count] of counts.entries()) {
      expect(count.floor).toBeGreaterThanOrEqual(i === 0 ? 0 : counts[i - 1]!.floor + HAIR);
      expect(count.floor).toBeLessThanOrEqual(length + HAIR);
    }
    for (const { floor, end } of [...phrases, ...sections]) {
      expect(end).toBeGreaterThanOrEqual(floor);
      expect(end).toBeLessThanOrEqual(length + HAIR);
    }
    expect(score.musicLength).toBeLessThanOrEqual(length + HAIR);
  }

  const found = checkBoard(board, today);
  expect(new Set(found.map(({ id }) => id)).size).toBe(found.length);
  for (const { sentence, fix, figures, place } of found) {
    expect(`${sentence} ${fix?.words ?? ''}`).not.toMatch(HOLE);
    expect(Object.values(figures).filter((one) => typeof one === 'number' && !Number.isFinite(one))).toEqual(
      [],
    );
    if (score && place.floorTime !== null) expect(place.floorTime).toBeLessThanOrEqual(score.length + HAIR);
  }
  expect(stages(board, found)).toHaveLength(5);
  expect(answerState(board).words).not.toMatch(HOLE);
  expect(JSON.stringify(nightCard(board))).not.toMatch(/undefined|NaN/);

  for (const plays of ['finished file', 'own copy'] as const) {
    const dj = djFacts(board, versionNumber(board), plays);
    expect(fiveLines(dj)).not.toMatch(HOLE);
    expect(fiveLines(dj).trimEnd().split('\n')).toHaveLength(5);
    expect(dj.joins).toHaveLength(score ? score.seams.length : dj.joins.length);
    for (const { leave, goOn } of dj.joins) expect(goOn).toBeGreaterThanOrEqual(leave);
    if (plays === 'finished file') {
      for (const { goOn } of dj.joins) expect(goOn).toBeLessThanOrEqual(dj.fileLength);
      expect(dj.closingPose?.at ?? 0).toBeLessThanOrEqual(dj.fileLength);
      expect(dj.fade?.gone ?? 0).toBeLessThanOrEqual(dj.fileLength);
    }
  }

  const entry = entryFacts(board);
  expect(entryCsv(entry)).not.toMatch(HOLE);
  const about = { id: 'b', place: board.plan.venue ?? '', stamp: '2027-01-01T00:00:00.000Z' as const };
  const calendar = entryIcs(entry, about);
  expect(calendar.ok).toBe(entry.startsAt !== null && entry.total !== null);
  if (calendar.ok)
    for (const line of calendar.value.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
  for (const clock of ['floor', 'record'] as const)
    expect(movesVtt(board.plan, clock)).not.toMatch(/undefined|NaN|Infinity/);
}

describe('boards that make little sense', () => {
  it('are still scored, checked and put into words and papers, without a throw or a hole', () => {
    fc.assert(fc.property(oddBoards, holds), { seed: 20270612, numRuns: 60 });
  }, 60_000);

  it('are printed too', async () => {
    await fc.assert(
      fc.asyncProperty(oddBoards, async (board) => {
        const sheets = [await entryPdf(board)];
        for (const one of [await djPdf(board), await couplePdf(board)]) if (one.ok) sheets.push(one.value);
        for (const sheet of sheets) expect(sheet.subarray(0, 5).toString()).toBe('%PDF-');
      }),
      { seed: 3, numRuns: 4 },
    );
  }, 60_000);
});

describe('a song of a single beat', () => {
  it('has no end of counts made up for it, at any count level', () => {
    for (const countLevel of ['beat', 'half', 'subdivision'] as const) {
      const grid = {
        ...gridOf({ beatsPerBar: 4, subdivision: 3, countLevel }),
        beats: [micros(1)],
        bars: [0],
      };
      expect(recordCounts(grid, 60).length).toBeLessThanOrEqual(3);
    }
  });
});

describe('what is refused at the door', () => {
  it('days and times that no calendar has', () => {
    const { date } = planShape.registers;
    const { time } = showShape.registers;
    const { nextLesson } = planShape.registers;
    for (const no of ['2027-13-01', '2027-02-30', '2027-00-10'])
      expect(date.safeParse(no).success, no).toBe(false);
    for (const no of ['2027-06-12T24:00', '2027-06-31T10:00', '2027-06-12T10:60', '2027-06-12T10:00:61'])
      expect(nextLesson.safeParse(no).success, no).toBe(false);
    for (const no of ['24:00', '10:60', '10:00:61', '1:00', ''])
      expect(time.safeParse(no).success, no).toBe(false);
    expect(date.safeParse('2028-02-29').success).toBe(true);
    expect(date.safeParse('2027-02-29').success).toBe(false);
    expect(date.safeParse('2100-02-29').success).toBe(false);
    expect(nextLesson.safeParse('2027-06-12T23:59:59').success).toBe(true);
    expect(time.safeParse('23:59:59').success).toBe(true);
  });

  it('bars that begin on no beat', () => {
    const { grid } = planShape.registers;
    const right = gridOf();
    expect(grid.safeParse(right).success).toBe(true);
    expect(grid.safeParse({ ...right, bars: [...right.bars, right.beats.length] }).success).toBe(false);
    expect(grid.safeParse({ ...right, bars: [3, 0] }).success).toBe(false);
  });
});

describe('edits whose parts lie outside what is played', () => {
  const { duration } = boardOf().plan.recording!;
  const cues = [cueAt('a', 60, 'harbour'), cueAt('b', 150, 'again')];

  it('a part left out before the start, or after a fade, is no join', () => {
    const edit = { ...cutOut(20, 30), start: cutOut(40, 50).cuts[0]!.from };
    const facts = djFacts(boardOf({}, { edit, cues }), 1, 'own copy');
    expect(facts.joins).toEqual([]);
    expect(facts.start.at).toBe(40);
    expect(facts.planB).toBe(
      'If the song begins with its beginning, let it run; the couple wait 40 s longer before the first step.',
    );
  });

  it('a part left out to the very end stops the song: the DJ is told where', () => {
    const board = boardOf({}, { edit: cutOut(150.5, duration), cues });
    const own = djFacts(board, 1, 'own copy');
    expect(own.joins).toEqual([]);
    expect(own.lines[3]).toBe('Stop it at 2:30.5: the song itself goes on.');
    expect(own.lastHeard).toBe('“again”');
    expect(djFacts(board, 1).lines[3]).toBe('Nothing to cut. No fade: the file stops inside the song.');
    expect(djFacts(boardOf(), 1).lines[3]).toBe('Nothing to cut. No fade: it ends by itself.');
  });

  it('what is written over several lines stays one of the five', () => {
    const facts = djFacts(boardOf({}, { venue: 'The\nGlasshouse\t2' }), 1);
    expect(facts.lines[0]).toContain('The Glasshouse 2: ');
  });
});
