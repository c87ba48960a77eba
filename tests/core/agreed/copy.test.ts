import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { copyWords } from '../../../app/_handover/copyWords.ts';
import { answerState, standingYes } from '../../../lib/core/agreed/answerState.ts';
import { copyCheckNow, copyProblem, copyStanding } from '../../../lib/core/agreed/copy.ts';
import { entryFacts, LENGTH_OPEN } from '../../../lib/core/agreed/entry.ts';
import { givenFor } from '../../../lib/core/agreed/given.ts';
import type { Plays } from '../../../lib/core/agreed/played.ts';
import { type CopyCheck, copyCheck } from '../../../lib/core/areas/answer.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { playsWhole, wholeSong } from '../../../lib/core/edit/edit.ts';
import { stages } from '../../../lib/core/handover/stages.ts';
import { entryCsv } from '../../../lib/export/csv.ts';
import { calendarTime } from '../../../lib/export/needs.ts';
import { barAt, fadeAt } from '../../kit/board.ts';
import { checkedAs, filled, saidYes } from './said.ts';

const AT = '2027-05-04T10:00:00.000Z' as const;
const board = filled();
const own = saidYes(board, 'own copy');
const file = saidYes(board, 'finished file');
const checking = (of: Board, state: 'begun' | 'failed', recording = of.plan.recording!.id): Board => ({
  ...of,
  answer: { ...of.answer!, checking: { state, at: AT, recording } },
});
const djStage = (of: Board) => stages(of, checkBoard(of, '2027-05-05')).find(({ name }) => name === 'DJ')!;

describe('how the DJ’s copy stands', () => {
  it.each<[string, Board, object]>([
    ['the finished file needs no check', file, { kind: 'not needed' }],
    ['nor does a band', { ...own, plan: { ...own.plan, musicBy: 'band' } }, { kind: 'not needed' }],
    ['an own copy does', own, { kind: 'not checked' }],
    ['the same recording', checkedAs(own, {}), { kind: 'fits' }],
    [
      'the same, later',
      checkedAs(own, { verdict: 'shifted', offsetMs: 700 }),
      { kind: 'fits with an offset', offsetMs: 700 },
    ],
    [
      'another speed, however exact the rest',
      checkedAs(own, { verdict: 'shifted', ratio: 1.004 }),
      { kind: 'does not fit', why: 'another speed' },
    ],
    ['another cut', checkedAs(own, { verdict: 'cut differently' }), { why: 'cut differently' }],
    ['another recording', checkedAs(own, { verdict: 'another recording' }), { why: 'another recording' }],
    [
      'the finished file as an own copy',
      checkedAs(own, { verdict: 'finished file' }),
      { why: 'finished file' },
    ],
    ['the finished file', checkedAs(file, { verdict: 'finished file' }), { kind: 'fits' }],
    [
      'the finished file of another edit',
      checkedAs(file, { verdict: 'finished file', digest: 'b'.repeat(64) }),
      { kind: 'does not fit', why: 'older finished file' },
    ],
    [
      'the whole recording, loaded as the finished file',
      checkedAs(file, { plays: 'finished file' }),
      { kind: 'does not fit', why: 'whole recording' },
    ],
    [
      'an own copy that is not played any more',
      checkedAs(file, { plays: 'own copy' }),
      { kind: 'not needed' },
    ],
    ['one that could not be told', checkedAs(own, { confidence: 0.2 }), { kind: 'unsure' }],
    ['a check that was begun', checking(own, 'begun'), { kind: 'being checked', at: AT }],
    ['begun after one that fitted', checking(checkedAs(own, {}), 'begun'), { kind: 'being checked' }],
    ['one that failed', checking(checkedAs(own, {}), 'failed'), { kind: 'failed', at: AT }],
    ['begun with another recording', checking(own, 'begun', 'b'.repeat(64)), { kind: 'not checked' }],
    ['of another recording', checkedAs(own, { recording: 'b'.repeat(64) }), { kind: 'not checked' }],
  ])('%s', (_, of, standing) => expect(copyStanding(of)).toMatchObject(standing));

  it('the whole recording is the finished file where nothing is done to it', () => {
    const whole = saidYes(filled({ edit: wholeSong }), 'finished file');
    expect(copyStanding(checkedAs(whole, { plays: 'finished file' }))).toEqual({ kind: 'fits' });
    const shifted = checkedAs(whole, { plays: 'finished file', verdict: 'shifted', offsetMs: 400 });
    expect(copyStanding(shifted)).toMatchObject({ why: 'another clock' });
  });
});

const checks: fc.Arbitrary<Partial<CopyCheck>> = fc.record({
  verdict: fc.constantFrom(...copyCheck.shape.verdict.options),
  offsetMs: fc.constantFrom(0, -300, 4000),
  ratio: fc.constantFrom(1, 1.0001, 0.9998, 1.004, 0.94),
  confidence: fc.constantFrom(0.1, 0.5, 1),
  digest: fc.constantFrom(board.plan.edit === null ? '' : 'b'.repeat(64), undefined as never),
  plays: fc.constantFrom('finished file' as const, 'own copy' as const, undefined as never),
});

describe('a yes with a copy that does not fit', () => {
  it('is confirmed nowhere: no stage, finding, paper or policy takes it for one', () => {
    const wholes = [board, filled({ edit: wholeSong }), filled({ edit: fadeAt(barAt(84), 8) })];
    let wrong = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...wholes),
        fc.constantFrom<Plays>('finished file', 'own copy'),
        fc.option(checks),
        fc.constantFrom('begun' as const, 'failed' as const, null),
        (of, plays, check, trial) => {
          const yes = saidYes(of, plays);
          const checked = check ? checkedAs(yes, check) : yes;
          const now = trial ? checking(checked, trial) : checked;
          const problem = copyProblem(copyStanding(now));
          const stands = standingYes(now) !== null;
          expect(stands).toBe(problem === '');
          expect(djStage(now).settled).toBe(stands);
          expect(givenFor(now)!.holds).toBe(stands);
          const found = checkBoard(now, '2027-05-05').filter(({ rule }) => rule.startsWith('copy-'));
          expect(found.some(({ severity }) => severity !== 'hints')).toBe(!stands);
          if (stands) return;
          wrong += 1;
          expect(answerState(now).kind).toBe('yes, copy does not fit');
          expect(answerState(now).words).toContain(problem);
          expect(djStage(now)).toMatchObject({ owedBy: 'DJ', findings: found.map(({ id }) => id) });
        },
      ),
      { seed: 11, numRuns: 300 },
    );
    expect(wrong).toBeGreaterThan(100);
  });

  it('reads on the page of the check as it stands everywhere else', () => {
    fc.assert(
      fc.property(fc.constantFrom<Plays>('finished file', 'own copy'), checks, (plays, check) => {
        const of = checkedAs(saidYes(board, plays), { ...check, plays });
        const whole = playsWhole(of.plan.edit!);
        const { settled } = copyWords(copyCheckNow(of.answer!.copy, of.plan)!, { plays, whole, dj: true });
        expect(settled).toBe(copyProblem(copyStanding(of)) === '');
      }),
      { seed: 12, numRuns: 200 },
    );
  });

  it('holds again once the right copy is checked', () => {
    const wrong = checkedAs(own, { verdict: 'another recording' });
    expect(standingYes(wrong)).toBeNull();
    expect(standingYes(checkedAs(wrong, {}))).not.toBeNull();
  });
});

describe('the entry’s length', () => {
  const timed = (of: Board): Board => ({
    ...of,
    show: { ...of.show!, time: '19:30', lead: 30 },
  });
  const length = (of: Board) => entryFacts(timed(of));
  const { musicLength } = length(file);

  // Worked example (arithmetic): a copy that lasts 1.05 times as long plays 148 s of music for 155.4 s.
  it('is that of an own copy at its own speed, with its moments', () => {
    const slower = length(checkedAs(own, { verdict: 'shifted', ratio: 1.05, offsetMs: 2000 }));
    expect(slower.musicLength).toBeCloseTo(musicLength! * 1.05, 9);
    expect(slower.total).toBe(30 + Math.round(musicLength! * 1.05) + 20);
    const pose = ({ moments }: typeof slower) => moments.find(({ what }) => what.startsWith('closing pose'))!;
    expect(pose(slower).floor).toBeCloseTo(pose(length(own)).floor * 1.05, 9);
    expect(slower.missing).not.toContain(LENGTH_OPEN);
  });

  it('is that of the finished file where a copy fits, is not checked, or is not played', () => {
    for (const of of [
      own,
      checkedAs(own, {}),
      checkedAs(own, { verdict: 'shifted', offsetMs: 900, ratio: 1.0001 }),
      checkedAs(file, { verdict: 'shifted', ratio: 1.05 }),
      checkedAs(file, { verdict: 'another recording' }),
    ])
      expect(length(of).musicLength).toBe(musicLength);
  });

  it.each(['cut differently', 'another recording', 'older finished file'] as const)(
    'is open where an own copy is %s, and says so on every paper',
    (verdict) => {
      const open = checkedAs(own, { verdict });
      const entry = length(open);
      expect(entry).toMatchObject({ musicLength: null, total: null });
      expect(entry.missing).toContain(LENGTH_OPEN);
      expect(entry.missing).not.toContain('the song');
      expect(entryCsv(entry)).toMatch(new RegExp(`still open,.*${LENGTH_OPEN}`));
      expect(entryCsv(entry).match(/still open/g)).toHaveLength(1);
      expect(calendarTime(entry)).toMatchObject({
        problem: { sentence: expect.stringContaining('the DJ needs a copy that fits') },
      });
      const show = stages(timed(open), []).find(({ name }) => name === 'run of show')!;
      expect(show.words).not.toBe('to mark final');
    },
  );
});
