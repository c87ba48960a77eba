import { describe, expect, test } from 'vitest';
import { answeredWords } from '../../../app/_handover/answeredWords.ts';
import { clockWords, secondsFrom } from '../../../app/_handover/clockWords.ts';
import { copyWords } from '../../../app/_handover/copyWords.ts';
import { knownEdits } from '../../../app/_handover/olderEdits.ts';
import { stripOf } from '../../../app/_handover/strip.ts';
import { ofCopy, ofFile, suggestedEdit } from '../../../app/_handover/suggestion.ts';
import type { AnswerState } from '../../../lib/core/agreed/answerState.ts';
import { playClock } from '../../../lib/core/agreed/clocks.ts';
import { copyCheckNow } from '../../../lib/core/agreed/copy.ts';
import { fileName } from '../../../lib/core/agreed/dj.ts';
import { currentDigest } from '../../../lib/core/agreed/played.ts';
import { spokenVersions, versionNumber } from '../../../lib/core/agreed/version.ts';
import { type Answer, copyCheck } from '../../../lib/core/areas/answer.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import type { Instant } from '../../../lib/core/calendar.ts';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import type { Edit } from '../../../lib/core/edit/edit.ts';
import { playsWhole, wholeSong } from '../../../lib/core/edit/edit.ts';
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
    [
      'a fade that the recording is too short for',
      { ...wishes, end: { kind: 'fade' as const, from: recordTime(270), length: 5, byHand: true } },
    ],
  ])('refuses %s', (_what, wrong) => expect(suggestedEdit(wholeSong, 274, wrong).ok).toBe(false));
  test('a fade may last to the very end of the recording, and says why it may not last longer', () => {
    const fading = (length: number) => ({
      ...wishes,
      end: { kind: 'fade' as const, from: recordTime(266), length, byHand: true },
    });
    expect(suggestedEdit(spliced, 274, fading(8)).ok).toBe(true);
    expect(suggestedEdit({ ...spliced, speed: 0.95 }, 274, fading(8)).ok).toBe(true);
    expect(suggestedEdit(spliced, 274, fading(9))).toMatchObject({ problem: { code: 'too long' } });
  });
  test('a time after the finished file’s music is no time in it', () => {
    // The splice leaves out 86 s of 274 s.
    const file = compileEdit(spliced, { duration: 274 });
    expect(ofFile(100, file)).toEqual({ ok: true, value: 186 });
    expect(ofFile(188, file).ok).toBe(true);
    expect(ofFile(599, file)).toMatchObject({
      problem: {
        sentence: 'The music in the finished file ends at 3:08: please give a time before that.',
      },
    });
  });
  test('times on the clock of a copy come back as the record times that the page showed', () => {
    const copy = {
      verdict: 'shifted' as const,
      offsetMs: 350,
      ratio: 0.996,
      confidence: 0.9,
      at: '2027-05-02T10:00:00.000Z' as const,
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
  const check = { offsetMs: 0, ratio: 1, confidence: 1 };
  const dj = { whole: false, dj: true };
  const own = { plays: 'own copy', ...dj } as const;
  const gap = { recordFrom: 86, recordTo: 172, copyFrom: 86, copyTo: 88 };
  test.each([
    ['finished file', 'finished file', true],
    ['finished file', 'own copy', false],
    ['older finished file', 'finished file', false],
    ['same', 'own copy', true],
    ['same', 'finished file', false],
    ['shifted', 'own copy', true],
    ['shifted', 'finished file', false],
    ['cut differently', 'own copy', false],
    ['another recording', 'own copy', false],
  ] as const)('%s, for who plays the %s: settled %s', (verdict, plays, settled) =>
    expect(copyWords({ verdict, ...check }, { plays, ...dj }).settled).toBe(settled),
  );
  test('another speed, and what could not be told, settle nothing', () => {
    const at = { plays: 'own copy', ...dj } as const;
    const slower = copyWords({ ...check, verdict: 'shifted', ratio: 1.004 }, at);
    expect(slower).toMatchObject({
      settled: false,
      headline: 'This is the same recording at another speed.',
      lines: [
        'It runs 0.4 % slower.',
        'The couple dance to another tempo. The finished file is safer.',
        expect.any(String),
      ],
    });
    expect(copyWords({ ...check, verdict: 'same', confidence: 0.3 }, at).settled).toBe(false);
  });
  test('the whole recording is the finished file where nothing is left out, in the same time only', () => {
    const whole = { plays: 'finished file', whole: true, dj: true } as const;
    expect(playsWhole(wholeSong)).toBe(true);
    for (const edit of [
      spliced,
      faded,
      { ...wholeSong, speed: 0.97 },
      { ...wholeSong, start: recordTime(5) },
    ])
      expect(playsWhole(edit)).toBe(false);
    expect(copyWords({ verdict: 'same', ...check }, whole)).toMatchObject({
      settled: true,
      headline: 'Yes, this is what is to be played.',
    });
    expect(copyWords({ ...check, verdict: 'shifted', offsetMs: 350 }, whole)).toMatchObject({
      settled: false,
      lines: ['It comes 0.35 s later.', 'Please take the finished file.'],
    });
  });
  test('nobody but the DJ reads what the DJ is to do, or of “your copy”', () => {
    for (const plays of ['finished file', 'own copy'] as const)
      for (const verdict of copyCheck.shape.verdict.options) {
        const { headline, lines } = copyWords(
          { ...check, verdict, offsetMs: 350, differences: [gap] },
          { plays, whole: false, dj: false },
        );
        expect([headline, ...lines].join(' ')).not.toMatch(/your|please|choose/i);
      }
  });
  test('says how much later and faster', () => {
    // A copy that lasts 0.995 of the recording runs 1 / 0.995 - 1 = 0.5 % faster (arithmetic).
    const { lines } = copyWords({ ...check, verdict: 'shifted', offsetMs: 350, ratio: 0.995 }, own);
    expect(lines[0]).toBe('It comes 0.35 s later and runs 0.5 % faster.');
    expect(copyWords({ ...check, verdict: 'shifted', offsetMs: -40 }, own).lines[0]).toBe(
      'It comes 0.04 s earlier.',
    );
    expect(copyWords({ ...check, verdict: 'shifted', ratio: 1.01 }, own).lines[0]).toBe(
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
      own,
    );
    expect(lines.slice(0, 2)).toEqual([
      'It lacks 1:26 to 2:52 of the recording.',
      'It has more: 1:54 to 2:10 of the copy.',
    ]);
  });
});

describe('what a check of a copy says later', () => {
  const check = { verdict: 'finished file' as const, recording: 'a'.repeat(64) };
  const found = { ...check, digest: currentDigest(board(spliced).plan)! };
  test('the finished file is an older one once the edit is another, and again the finished one with that edit', () => {
    expect(copyCheckNow(found, board(faded).plan)!.verdict).toBe('older finished file');
    expect(copyCheckNow(found, board(spliced).plan)!.verdict).toBe('finished file');
  });
  test('nothing once the recording is another', () => {
    const { plan } = board(spliced);
    const another = { ...plan, recording: { ...plan.recording!, id: 'b'.repeat(64) } };
    expect(copyCheckNow({ ...found, verdict: 'shifted' }, another)).toBeNull();
  });
});

test('whose clock it is reads otherwise to the DJ than to everybody else', () => {
  expect(clockWords('your own copy', true)).toBe('your own copy');
  expect(clockWords('your own copy', false)).toBe('the DJ’s own copy');
  expect(clockWords('the recording', false)).toBe('the recording');
});

describe('what was said last, in a sentence', () => {
  const said = (
    kind: AnswerState['kind'],
    proposal: Edit | null,
    plays: 'finished file' | 'own copy',
    by = '',
  ) => {
    const last = { ...answer('a', '2027-01-01T00:00:00.000Z', spliced, '', proposal), by, plays };
    const state = { kind, answer: last, differs: [], newFile: false, answerBy: null, words: '' };
    return (mine: boolean) => answeredWords(state, '2 May 2027, 14:05', mine);
  };
  test.each([
    ['accepted', faded, 'own copy', 'suggested exactly this', '. It was accepted.'],
    ['declined', faded, 'own copy', 'suggested something else', '. It was declined.'],
    ['proposal open', faded, 'own copy', 'suggested something else', '.'],
    ['yes', null, 'own copy', 'said yes to exactly this', '.'],
    ['yes to an older version', null, 'own copy', 'said yes to an older version', '.'],
    ['yes to an older version', faded, 'own copy', 'suggested an older version', '. It was accepted.'],
    ['yes to the other file', null, 'own copy', 'said yes to exactly this', '.'],
    ['yes, copy does not fit', null, 'own copy', 'said yes to exactly this', '.'],
    ['yes to other facts', null, 'own copy', 'said yes', ', before this changed.'],
    ['yes to other facts', faded, 'own copy', 'suggested this edit', '. It was accepted.'],
  ] as const)('%s', (kind, proposal, plays, did, end) => {
    const words = said(kind, proposal, plays);
    expect(words(false)).toBe(`The DJ ${did} on 2 May 2027, 14:05, playing their own copy${end}`);
    expect(words(true)).toBe(`You ${did} on 2 May 2027, 14:05, playing your own copy${end}`);
  });
  test('says for which version, where that is known', () => {
    const last = { ...answer('a', '2027-01-01T00:00:00.000Z', spliced, ''), plays: 'finished file' as const };
    const state = {
      kind: 'yes to an older version' as const,
      answer: last,
      differs: [],
      newFile: false,
      answerBy: null,
      words: '',
    };
    expect(answeredWords(state, '2 May 2027, 14:05', true, 2)).toBe(
      'You said yes to an older version, version 2, on 2 May 2027, 14:05, playing the finished file.',
    );
  });
  test('names who said it, and the finished file', () =>
    expect(said('yes', null, 'finished file', 'Rui')(false)).toBe(
      'Rui said yes to exactly this on 2 May 2027, 14:05, playing the finished file.',
    ));
});

const answer = (id: string, at: Instant, edit: Edit, digest: string, proposal: Edit | null = null) => ({
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
      const now = {
        digest: digestOfBoard(edit),
        at: '2027-05-03T10:00:00.000Z' as const,
        by: 'Noor',
        answerBy: null,
      };
      const before = spokenVersions(board(edit, {}, { asked }));
      return board(edit, {}, { asked: { ...now, before } });
    };
    const first = ask(faded);
    expect(versionNumber(first)).toBe(1);
    const second = ask(spliced, first.plan.asked);
    expect(spokenVersions(second)).toEqual(digests);
    expect(versionNumber(second)).toBe(2);

    const suggested = answer('one', '2027-05-04T10:00:00.000Z', spliced, digests[1]!, wholeSong);
    const reply = {
      id: 'r',
      answer: 'one',
      accepted: true,
      at: '2027-05-05T10:00:00.000Z' as const,
      by: 'Noor',
    };
    const taken = (edit: Edit) =>
      versionNumber(board(edit, { answers: [suggested] }, { asked: second.plan.asked, replies: [reply] }));
    expect([faded, spliced, wholeSong].map(taken)).toEqual([1, 2, 3]);
  });
  test('all edits that the board remembers are known again, the present one first, each once', () => {
    const answers = [
      answer('one', '2027-05-01T10:00:00.000Z', wholeSong, 'b'.repeat(64), spliced),
      answer('two', '2027-05-02T10:00:00.000Z', faded, 'c'.repeat(64)),
    ];
    const mark = { name: 'after lesson 2', at: '2027-05-01T10:00:00.000Z' as const, by: 'Mara' };
    const marks = [
      { ...mark, id: 'm', state: JSON.stringify({ edit: { ...spliced, start: 3 } }) },
      { ...mark, id: 'n', state: '{' },
    ];
    const made = board(faded, { answers }, { marks });
    expect(knownEdits(made)).toEqual([faded, wholeSong, spliced, { ...spliced, start: 3 }]);
  });
});
