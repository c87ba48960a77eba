import { describe, expect, it } from 'vitest';
import { entryFacts } from '../../lib/core/agreed/entry.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import type { Day, TimeOfDay } from '../../lib/core/calendar.ts';
import { entryIcs } from '../../lib/export/ics.ts';
import { lackOf } from '../../lib/export/needs.ts';
import { couplePdf } from '../../lib/export/pdf.ts';
import { papers } from '../../lib/protocol/api.ts';
import { boardOf } from '../kit/board.ts';

const whole = boardOf();
const board = (time: TimeOfDay | null, hasSong: boolean, date: Day | null = whole.plan.date): Board => ({
  ...whole,
  plan: { ...whole.plan, date, ...(hasSong ? {} : { grid: null, recording: null }) },
  show: { ...whole.show!, time },
});
const TIME = '19:30';

describe('what a paper waits for', () => {
  it.each<[TimeOfDay | null, boolean, string | null, null?]>([
    [TIME, true, null],
    [TIME, true, 'There is no calendar yet: the board needs a date.', null],
    [
      null,
      false,
      'There is no calendar yet: the run of show needs a time, and the board needs a date and a song.',
      null,
    ],
    [null, true, 'There is no calendar yet: the run of show needs a time.'],
    [TIME, false, 'There is no calendar yet: the board needs a song.'],
    [null, false, 'There is no calendar yet: the run of show needs a time, and the board needs a song.'],
  ])('a calendar, starting at %s, with a song: %s', (time, hasSong, sentence, ...date) => {
    const those = board(time, hasSong, ...date);
    expect(lackOf('planner.ics', those)).toBe(sentence);
    const made = entryIcs(entryFacts(those), { id: 'b1', place: '', stamp: '2027-01-01T00:00:00.000Z' });
    expect(made.ok ? null : made.problem.sentence).toBe(sentence);
  });

  it('the couple’s sheet: the song and its counts', async () => {
    expect(lackOf('couple.pdf', board(null, true))).toBeNull();
    const none = await couplePdf(board(TIME, false));
    expect(none.ok ? null : none.problem.sentence).toBe(lackOf('couple.pdf', board(TIME, false)));
    expect(lackOf('couple.pdf', board(TIME, false))).toMatch(/^There is no couple’s sheet yet/);
  });

  it('the DJ’s sheet: the song', () => {
    expect(lackOf('dj.pdf', board(null, true))).toBeNull();
    expect(lackOf('dj.pdf', board(TIME, false))).toBe('There is no DJ’s sheet yet: the song comes first.');
  });

  it('all others nothing', () => {
    const others = papers.filter((paper) => lackOf(paper, board(null, false)) === null);
    expect(others).toEqual(['planner.pdf', 'planner.csv', 'moves.vtt', 'board.json']);
  });
});
