import { describe, expect, it } from 'vitest';
import { answerState, standingYes } from '../../../lib/core/agreed/answerState.ts';
import { entryFacts, keptFacts } from '../../../lib/core/agreed/entry.ts';
import { givenFor } from '../../../lib/core/agreed/given.ts';
import { answerProblem, finalProblem, yesProblem } from '../../../lib/core/agreed/problems.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { stages } from '../../../lib/core/handover/stages.ts';
import { barAt, cueAt, fadeAt } from '../../kit/board.ts';
import { answerTo, filled, saidYes } from './said.ts';

const board = filled();
const yes = saidYes(board);
const planned = (of: Board, plan: Partial<Plan>): Board => ({ ...of, plan: { ...of.plan, ...plan } });
const signalled = (signal: string): Partial<Plan> => ({ walkOn: { ...board.plan.walkOn!, signal } });

describe('a yes is to all that was read with it', () => {
  it.each<[string, Board, string]>([
    [
      'the start signal',
      planned(yes, signalled('the lights')),
      'start signal: was the MC’s nod, is the lights',
    ],
    [
      'the last words',
      planned(yes, { walkOn: { ...board.plan.walkOn!, lastWords: 'and now' } }),
      'last words before it: was nothing, is and now',
    ],
    ['the venue', planned(yes, { venue: 'Tidemill Loft' }), 'venue: was The Glasshouse, is Tidemill Loft'],
    ['the day', planned(yes, { date: '2027-06-13' }), 'day: was 12 June 2027, is 13 June 2027'],
    ['the time', { ...yes, show: { ...yes.show!, time: '21:00' } }, 'announced at: was 19:30, is 21:00'],
    [
      'what follows',
      { ...yes, show: { ...yes.show!, after: 'the band' } },
      'afterwards: was the cake, is the band',
    ],
    [
      'a word at the closing pose',
      planned(yes, { cues: [...board.plan.cues.slice(0, 3), cueAt('d', barAt(108), 'evermore')] }),
      'closing pose: was 2:16 on “homeward”, kept 4 s, is 2:16 on “evermore”, kept 4 s',
    ],
  ])('%s', (_, changed, differs) => {
    const state = answerState(changed);
    expect(state).toMatchObject({ kind: 'yes to other facts', newFile: false });
    expect(state.differs).toContain(differs);
    expect(standingYes(changed)).toBeNull();
    const found = checkBoard(changed, '2027-05-05');
    const said = found.find(({ rule }) => rule === 'dj-older-version')!;
    expect(said.sentence).toContain('before this changed');
    const dj = stages(changed, found).find(({ name }) => name === 'DJ')!;
    expect(dj).toMatchObject({ settled: false, owedBy: 'DJ', findings: [said.id] });
    expect(givenFor(changed)).toMatchObject({ holds: false, words: expect.stringContaining(differs) });
    // One more yes is to these too.
    expect(answerState(saidYes(changed)).kind).toBe('yes');
  });

  it('holds while nothing that was read changes, and again when it is changed back', () => {
    expect(answerState(yes).kind).toBe('yes');
    const lessons = planned(yes, { lessonsLeft: 2, target: { length: 150, within: 20 } as Plan['target'] });
    expect(answerState(lessons).kind).toBe('yes');
    expect(answerState(planned(planned(yes, signalled('x')), signalled('the MC’s nod'))).kind).toBe('yes');
  });

  it('an older answer, which does not say what was read, is to the edit alone', () => {
    const { covers: _none, ...older } = answerTo(board);
    const old: Board = { ...yes, answer: { ...yes.answer!, answers: [older] } };
    expect(answerState(planned(old, signalled('the lights'))).kind).toBe('yes');
    expect(answerState(planned(old, { edit: wholeSong })).kind).toBe('yes to an older version');
  });

  it('tells of a changed edit by itself, and of what changed beside it: not of what the edit brings with it', () => {
    const faded = fadeAt(barAt(84), 8);
    expect(answerState(planned(yes, { edit: faded })).differs).toEqual([
      'No longer left out: 1:36.0 to 2:56.0 of the recording.',
      'It now ends with a fade, from 2:48.0 to 2:56.0 of the recording.',
    ]);
    const both = answerState(planned(yes, { edit: faded, ...signalled('the lights') }));
    expect(both.kind).toBe('yes to an older version');
    expect(both.differs.slice(2)).toEqual(['start signal: was the MC’s nod, is the lights']);
  });

  it('a suggestion that was accepted is agreed until something beside it changes', () => {
    const proposal = answerTo(board, { kind: 'proposal', proposal: wholeSong });
    const replies = [
      { id: 'r', answer: 'a1', accepted: true, at: '2027-05-03T10:00:00.000Z' as const, by: 'Noor' },
    ];
    const accepted: Board = planned(
      { ...board, answer: { ...board.answer!, plays: 'finished file', answers: [proposal] } },
      { edit: wholeSong, replies },
    );
    expect(answerState(accepted).kind).toBe('accepted');
    expect(answerState(planned(accepted, signalled('the lights'))).kind).toBe('yes to other facts');
  });

  it('asked again, the DJ reads what changed beside the edit, too', () => {
    const asked = {
      digest: answerTo(board).digest,
      at: '2027-05-09T10:00:00.000Z' as const,
      by: 'Noor',
      answerBy: null,
    };
    expect(answerState(planned(yes, { asked, ...signalled('the lights') }))).toMatchObject({
      kind: 'asked',
      differs: ['start signal: was the MC’s nod, is the lights'],
    });
  });
});

describe('an answer is taken only for the board as it is', () => {
  const given = answerTo(board);
  it('a yes to exactly that, from either file; a suggestion beside exactly that', () => {
    expect(yesProblem(board, given)).toBeNull();
    expect(yesProblem(board, answerTo(board, { plays: 'own copy' }))).toBeNull();
    expect(yesProblem(board, answerTo(board, { kind: 'proposal', proposal: wholeSong }))).toBeNull();
    expect(yesProblem(saidYes(board), given)).toBeNull();
  });
  it.each<[string, Board, object]>([
    ['another edit', planned(board, { edit: wholeSong }), {}],
    ['another signal', planned(board, signalled('the lights')), {}],
    ['another time', { ...board, show: { ...board.show!, time: '21:00' } }, {}],
    ['facts of the other file', board, { plays: 'own copy' }],
    ['a digest of another edit', board, { digest: 'b'.repeat(64) }],
    ['an edit that is not of its digest', board, { edit: wholeSong }],
    [
      'facts that are not of their digest',
      board,
      { covers: { ...given.covers!, facts: { venue: 'elsewhere' } } },
    ],
    ['no facts at all', board, { covers: undefined }],
  ])('not with %s', (_, of, more) =>
    expect(yesProblem(of, { ...given, ...more })).toMatch(/again\.$|anew\.$/),
  );
  it('not without a song', () =>
    expect(yesProblem(planned(board, { recording: null }), given)).toContain('no song'));

  it('what was said stays said, whoever asks', () => {
    expect(answerProblem(yes, given, { ...given })).toBeNull();
    expect(answerProblem(yes, undefined, given)).toBeNull();
    expect(answerProblem(yes, undefined, undefined)).toBeNull();
    expect(answerProblem(yes, given, { ...given, words: 'or not' })).toContain('stays as it was said');
    expect(answerProblem(yes, given, undefined)).toContain('stays as it was said');
    expect(answerProblem(board, undefined, { ...given, digest: 'b'.repeat(64) })).toContain(
      'changed meanwhile',
    );
  });

  it('so is the planner’s final word', () => {
    const { digest, facts } = entryFacts(board);
    const final = { digest, facts, at: '2027-05-02T10:00:00.000Z' as const, by: 'Pia' };
    expect(finalProblem(board, final)).toBeNull();
    expect(finalProblem(board, null)).toBeNull();
    // Notes are longer than what is kept of them with the word.
    const long: Board = { ...board, show: { ...board.show!, notes: 'quiet, please '.repeat(60) } };
    const entry = entryFacts(long);
    const kept = { ...final, digest: entry.digest, facts: keptFacts(entry.facts) };
    expect(finalProblem(long, kept)).toBeNull();
    const end: Board = { ...long, show: { ...long.show!, notes: `${long.show!.notes}now` } };
    expect(finalProblem(end, kept)).toContain('changed meanwhile');
    expect(finalProblem(planned(board, { venue: 'Tidemill Loft' }), final)).toContain('changed meanwhile');
    expect(finalProblem(board, { ...final, facts: { ...facts, place: 'x' } })).toContain('changed meanwhile');
  });
});
