import { describe, expect, test } from 'vitest';
import { secondsFrom } from '../../../app/_handover/clockWords.ts';
import { copyWords } from '../../../app/_handover/copyWords.ts';
import { knownEdits } from '../../../app/_handover/olderEdits.ts';
import { stripOf } from '../../../app/_handover/strip.ts';
import { ofCopy, suggestedEdit } from '../../../app/_handover/suggestion.ts';
import type { Answer } from '../../../lib/core/areas/answer.ts';
import { currentDigest } from '../../../lib/core/areas/answerState.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import type { Edit } from '../../../lib/core/edit/edit.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { playClock } from '../../../lib/core/handover/clocks.ts';
import { fileName } from '../../../lib/core/handover/dj.ts';
import { spokenVersions, versionNumber } from '../../../lib/core/handover/version.ts';
import { recordTime } from '../../../lib/core/units.ts';

const spliced: Edit = {
  ...wholeSong,
  cuts: [{ from: recordTime(86), to: recordTime(172), crossfade: 0.02 }],
};
const faded: Edit = {
  ...wholeSong,
  end: { kind: 'fade', from: recordTime(180), length: 8, shape: 'linear', byHand: false },
};
const board = (edit: Edit, answer: Partial<Answer> = {}, plan: Partial<Plan> = {}): Board => {
  const empty = emptyBoard();
  const recording = {
    id: 'a'.repeat(64),
    duration: 274,
    rate: 44100,
    channels: 2,
    bytes: 1,
    format: 'wav' as const,
    files: [{ file: 'a'.repeat(64), from: 0 }],
  };
  return {
    ...empty,
    plan: { ...empty.plan, recording, edit, ...plan },
    answer: { ...empty.answer!, ...answer },
  };
};

describe('a time as people type it', () => {
  test.each([
    ['3:05', 185],
    [' 3:05.4 ', 185.4],
    ['3:05,4', 185.4],
    ['0:09', 9],
    ['2:5', 125],
    ['185', 185],
    ['12.25', 12.25],
  ])('%s', (typed, seconds) => expect(secondsFrom(typed)).toEqual({ ok: true, value: seconds }));
  test.each(['', 'soon', '3:75', '-3:05', '3:05:10', '3.05.1'])('not “%s”', (typed) =>
    expect(secondsFrom(typed).ok).toBe(false),
  );
});

describe('a suggestion', () => {
  const wishes = { start: recordTime(0), whole: false, end: { kind: 'own' as const } };
  test('keeps what is left out unless it asks for the whole song', () => {
    expect(suggestedEdit(spliced, 274, wishes)).toEqual({ ok: true, value: spliced });
    expect(suggestedEdit(spliced, 274, { ...wishes, whole: true })).toMatchObject({ value: { cuts: [] } });
  });
  test('a start after a join leaves that join out', () =>
    expect(suggestedEdit(spliced, 274, { ...wishes, start: recordTime(180) })).toMatchObject({
      value: { start: 180, cuts: [] },
    }));
  test('a fade keeps the shape it had', () => {
    const end = { kind: 'fade' as const, from: recordTime(190), length: 6, byHand: true };
    expect(
      suggestedEdit({ ...faded, end: { ...faded.end, shape: 'soft' } as Edit['end'] }, 274, {
        ...wishes,
        end,
      }),
    ).toMatchObject({
      value: { end: { kind: 'fade', from: 190, length: 6, shape: 'soft', byHand: true } },
    });
  });
  test.each([
    ['a start past the end', { ...wishes, start: recordTime(300) }],
    [
      'a fade before the start',
      {
        ...wishes,
        start: recordTime(20),
        end: { kind: 'fade' as const, from: recordTime(10), length: 5, byHand: true },
      },
    ],
    [
      'an endless fade',
      { ...wishes, end: { kind: 'fade' as const, from: recordTime(10), length: 90, byHand: true } },
    ],
    [
      'a fade past the end',
      { ...wishes, end: { kind: 'fade' as const, from: recordTime(280), length: 5, byHand: true } },
    ],
  ])('refuses %s', (_what, wrong) => expect(suggestedEdit(wholeSong, 274, wrong).ok).toBe(false));
  test('times on the clock of a copy come back as the record times that the page showed', () => {
    const copy = {
      verdict: 'shifted' as const,
      offsetMs: 350,
      ratio: 0.996,
      confidence: 0.9,
      at: '2027-05-02T10:00:00.000Z',
    };
    const clock = playClock(board(wholeSong, { copy }), 'own copy');
    for (const at of [0, 12.5, 200]) expect(ofCopy(clock.ofRecord(recordTime(at))!, copy)).toBeCloseTo(at, 6);
  });
});

describe('the strip of the recording', () => {
  test('a splice: played, left out, played', () =>
    expect(stripOf(spliced, 274)).toEqual([
      { kind: 'played', from: 0, to: 86 },
      { kind: 'left out', from: 86, to: 172 },
      { kind: 'played', from: 172, to: 274 },
    ]));
  test('a fade, and what comes after it', () =>
    expect(stripOf(faded, 274).map(({ kind, from, to }) => [kind, from, to])).toEqual([
      ['played', 0, 180],
      ['fading', 180, 188],
      ['after', 188, 274],
    ]));
  test('a later start', () =>
    expect(stripOf({ ...wholeSong, start: recordTime(12) }, 274)[0]).toEqual({
      kind: 'before',
      from: 0,
      to: 12,
    }));
  test('covers the recording without gap or overlap', () => {
    const parts = stripOf({ ...spliced, start: recordTime(5), end: faded.end }, 274);
    expect(parts[0]!.from).toBe(0);
    expect(parts.at(-1)!.to).toBe(274);
    for (const [i, part] of parts.slice(1).entries()) expect(part.from).toBe(parts[i]!.to);
  });
});

describe('the copy check, in words', () => {
  const check = { offsetMs: 0, ratio: 1 };
  test.each([
    ['finished file', 'finished file', true],
    ['finished file', 'own copy', false],
    ['older finished file', 'finished file', false],
    ['same', 'own copy', true],
    ['same', 'finished file', false],
    ['shifted', 'own copy', true],
    ['cut differently', 'own copy', false],
    ['another recording', 'own copy', false],
  ] as const)('%s, for who plays the %s: settled %s', (verdict, plays, settled) =>
    expect(copyWords({ verdict, ...check }, plays).settled).toBe(settled),
  );
  test('says how much later and faster', () => {
    // A copy that lasts 0.995 of the recording runs 1 / 0.995 - 1 = 0.5 % faster (arithmetic).
    const { lines } = copyWords({ verdict: 'shifted', offsetMs: 350, ratio: 0.995 }, 'own copy');
    expect(lines[0]).toBe('It comes 0.35 s later and runs 0.5 % faster.');
    expect(copyWords({ verdict: 'shifted', offsetMs: -40, ratio: 1 }, 'own copy').lines[0]).toBe(
      'It comes 0.04 s earlier.',
    );
    expect(copyWords({ verdict: 'shifted', offsetMs: 0, ratio: 1.01 }, 'own copy').lines[0]).toBe(
      'It runs 0.99 % slower.',
    );
  });
  test('says what a differently cut copy lacks and what it has more', () => {
    const { lines } = copyWords(
      {
        verdict: 'cut differently',
        ...check,
        differences: [
          { recordFrom: 86, recordTo: 172, copyFrom: 86, copyTo: 86 },
          { recordFrom: 200, recordTo: 200, copyFrom: 114, copyTo: 130 },
        ],
      },
      'own copy',
    );
    expect(lines.slice(0, 2)).toEqual([
      'It lacks 1:26 to 2:52 of the recording.',
      'It has more: 1:54 to 2:10 of your copy.',
    ]);
  });
});

const answer = (id: string, at: string, edit: Edit, digest: string, proposal: Edit | null = null) => ({
  id,
  kind: proposal ? ('proposal' as const) : ('yes' as const),
  at,
  by: 'Rui',
  plays: 'finished file' as const,
  digest,
  edit,
  words: '',
  proposal,
});

describe('versions', () => {
  const digestOfBoard = (edit: Edit) => currentDigest(board(edit).plan)!;
  test('count from one, go up with what was spoken of, and back with an earlier edit', () => {
    const said = [
      answer('one', '2027-05-01T10:00:00.000Z', wholeSong, digestOfBoard(wholeSong)),
      answer('two', '2027-05-02T10:00:00.000Z', spliced, digestOfBoard(spliced)),
    ];
    const at = (edit: Edit) => versionNumber(board(edit, { answers: said }));
    expect([at(wholeSong), at(spliced)]).toEqual([1, 2]);
  });
  test('what nobody has spoken of is a draft, so that no two edits have one name', () => {
    expect([faded, spliced].map((edit) => versionNumber(board(edit)))).toEqual([null, null]);
    expect(fileName(board(faded).plan, null, 189)).toMatch(/ draft 3\.09\.mp3$/);
  });
  test('keep their numbers when the DJ is asked anew for another, and when a suggestion is accepted', () => {
    const digests = [faded, spliced].map(digestOfBoard);
    const ask = (edit: Edit, asked: Plan['asked'] = null): Board => {
      const now = { digest: digestOfBoard(edit), at: '2027-05-03T10:00:00.000Z', by: 'Noor', answerBy: null };
      const before = spokenVersions(board(edit, {}, { asked }));
      return board(edit, {}, { asked: { ...now, before } });
    };
    const first = ask(faded);
    expect(versionNumber(first)).toBe(1);
    const second = ask(spliced, first.plan.asked);
    expect(spokenVersions(second)).toEqual(digests);
    expect(versionNumber(second)).toBe(2);

    const suggested = answer('one', '2027-05-04T10:00:00.000Z', spliced, digests[1]!, wholeSong);
    const reply = { id: 'r', answer: 'one', accepted: true, at: '2027-05-05T10:00:00.000Z', by: 'Noor' };
    const taken = (edit: Edit) =>
      versionNumber(board(edit, { answers: [suggested] }, { asked: second.plan.asked, replies: [reply] }));
    expect([faded, spliced, wholeSong].map(taken)).toEqual([1, 2, 3]);
  });
  test('all edits that the board remembers are known again, the present one first, each once', () => {
    const answers = [
      answer('one', '2027-05-01T10:00:00.000Z', wholeSong, 'b'.repeat(64), spliced),
      answer('two', '2027-05-02T10:00:00.000Z', faded, 'c'.repeat(64)),
    ];
    const mark = { name: 'after lesson 2', at: '2027-05-01T10:00:00.000Z', by: 'Mara' };
    const marks = [
      { ...mark, id: 'm', state: JSON.stringify({ edit: { ...spliced, start: 3 } }) },
      { ...mark, id: 'n', state: '{' },
    ];
    const made = board(faded, { answers }, { marks });
    expect(knownEdits(made)).toEqual([faded, wholeSong, spliced, { ...spliced, start: 3 }]);
  });
});
