import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Board } from '../../lib/core/areas/board.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import { importAnswer } from '../../lib/protocol/api.ts';
import { problemBody } from '../../lib/protocol/problem.ts';
import { boardOf, cueAt, placed } from '../kit/board.ts';
import { askAt, setUpStudio } from './asking.ts';
import { type House, invite, makeBoard, openHouse } from './house.ts';

const AT = '2031-05-01T10:00:00.000Z' as const;
const DIGEST = 'a'.repeat(64);

let house: House;
let cookie: string;
beforeAll(async () => {
  house = await openHouse();
  cookie = await setUpStudio(house);
});
afterAll(() => house.end());

/** A board with something in every area, rich text of every kind among it. */
function fullBoard(): Board {
  const word = (text: string, mark?: string) => ({
    type: 'text',
    text,
    ...(mark ? { marks: [{ type: mark }] } : {}),
  });
  const text = {
    type: 'doc',
    content: [
      { type: 'heading', attrs: { level: 2 }, content: [word('Second lesson')] },
      { type: 'paragraph', content: [word('The box, '), word('slowly', 'bold')] },
      {
        type: 'taskList',
        content: [
          {
            type: 'taskItem',
            attrs: { checked: true },
            content: [{ type: 'paragraph', content: [word('Walk on')] }],
          },
        ],
      },
    ],
  };
  const { plan } = boardOf({}, { cues: [cueAt('c1', 12, 'lantern')], placed: [placed('p1', 'box', 20)] });
  const edit = plan.edit!;
  return {
    ...emptyBoard(),
    plan: { ...plan, title: 'A dance, "quoted" and für alle', venue: 'Mill' },
    lessons: {
      lessons: [{ id: 'l1', date: '2031-05-02', title: 'Second', writtenAt: AT, text }],
      readiness: [{ id: 'box', level: 2, at: AT }],
      questions: [],
      drills: [],
    },
    remarks: {
      remarks: [{ id: 'r1', writer: 'another-link', name: 'Kim', role: 'dj', at: AT, about: 'song', text }],
    },
    answer: {
      copy: null,
      checking: null,
      plays: 'own copy',
      answers: [
        {
          id: 'a1',
          kind: 'yes',
          at: AT,
          by: 'Kim',
          plays: 'own copy',
          digest: DIGEST,
          edit,
          words: 'Fine.',
          proposal: null,
        },
      ],
    },
  };
}
const bring = (file: unknown, as = cookie) =>
  askAt(house, '/api/boards/import', { method: 'POST', cookie: as, json: file });
const exportOf = async (id: string): Promise<Board> =>
  (await (
    await askAt(house, `/api/boards/${id}/papers/board.json?as=instructor`, { cookie })
  ).json()) as Board;

describe('a board in a file', () => {
  test('is the same board after being taken along, brought in and taken along again, under an id of its own', async () => {
    const first = importAnswer.parse(await (await bring(fullBoard())).json());
    const taken = await exportOf(first.id);
    expect(taken).toEqual(fullBoard());
    const second = importAnswer.parse(await (await bring(taken)).json());
    expect(second.id).not.toBe(first.id);
    expect(await exportOf(second.id)).toEqual(taken);
    const listed = (await (await askAt(house, '/api/boards', { cookie })).json()) as {
      boards: { id: string }[];
    };
    expect(listed.boards.map(({ id }) => id)).toEqual(expect.arrayContaining([first.id, second.id]));
  });

  test('names its recording, which is not in it and is not given to the board for being named', async () => {
    const { id, recording } = importAnswer.parse(await (await bring(fullBoard())).json());
    expect(recording).toBe(fullBoard().plan.recording?.id);
    const file = await askAt(house, `/api/boards/${id}/audio/${recording}?as=instructor`, { cookie });
    expect(file.status).toBe(404);
  });

  test('is taken as it was written elsewhere: settled, asked for and final, whether that is current or not', async () => {
    const said = { at: AT, by: 'Marta' };
    const board: Board = {
      ...fullBoard(),
      plan: {
        ...fullBoard().plan,
        settled: { ...said, word: 'Agreed.' },
        asked: { ...said, digest: DIGEST, answerBy: null },
      },
      show: {
        ...emptyBoard().show!,
        final: { ...said, digest: DIGEST, facts: { couple: 'Noor and Elias' } },
      },
    };
    const { id } = importAnswer.parse(await (await bring(board)).json());
    expect(await exportOf(id)).toEqual(board);
  });

  test('leaves out what its taker could not read, and comes without anybody’s link', async () => {
    const { plan } = fullBoard();
    const { id } = importAnswer.parse(
      await (await bring({ plan, lessons: null, remarks: null, show: null })).json(),
    );
    expect(await exportOf(id)).toEqual({ ...emptyBoard(), plan });
    const links = await askAt(house, `/api/boards/${id}/links?as=instructor`, { cookie });
    expect(await links.json()).toEqual({ links: [] });
  });

  const { plan, lessons } = fullBoard();
  const nested = (depth: number): unknown =>
    depth === 0 ? { type: 'paragraph' } : { type: 'blockquote', content: [nested(depth - 1)] };
  const withText = (text: unknown) => ({
    plan,
    lessons: { ...lessons, lessons: [{ ...lessons!.lessons[0], text }] },
  });
  test.each([
    ['is no board', ['not', 'a board'], 'malformed', /several named values are needed/],
    ['has no plan', { lessons }, 'malformed', /without its plan/],
    ['has a date that is none', { plan: { ...plan, date: '2031-02-30' } }, 'malformed', /^plan\.date: /],
    [
      'has two entries of one id',
      { plan: { ...plan, cues: [...plan.cues, ...plan.cues] } },
      'malformed',
      /one id/,
    ],
    [
      'has an entry that is none',
      { plan: { ...plan, placed: [{ id: 'p1' }] } },
      'malformed',
      /^plan\.placed\.0\./,
    ],
    [
      'has a note with a picture',
      withText({ type: 'doc', content: [{ type: 'image' }] }),
      'invalid',
      /image/,
    ],
    ['has a note that goes down without end', withText(nested(500)), 'malformed', /formatting/],
    ['has a note of numbers', withText({ type: 'doc', content: [7] }), 'malformed', /formatting/],
  ] as const)('is refused in words when it %s, and no board is made', async (_what, file, code, sentence) => {
    const before = (await house.running.services.boards.list(null, { from: 0, count: 1 })).total;
    const refused = await bring(file);
    const problem = problemBody.parse(await refused.json());
    expect(refused.status).toBeGreaterThanOrEqual(400);
    expect([problem.code, problem.sentence]).toEqual([code, expect.stringMatching(sentence)]);
    expect((await house.running.services.boards.list(null, { from: 0, count: 1 })).total).toBe(before);
  });

  test('is brought by the instructor only', async () => {
    const couple = await invite(house, await makeBoard(house), 'couple');
    expect((await bring(fullBoard(), couple.cookie)).status).toBe(401);
  });
});
