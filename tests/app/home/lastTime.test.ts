import { expect, test } from 'vitest';
import type { OwnChange } from '../../../app/_client/ownSince.ts';
import { newsSince, seenNow } from '../../../app/_home/lastTime.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import type { Lessons } from '../../../lib/core/areas/lessons.ts';
import { barAt, boardOf, libraryMove, micros, placed } from '../../kit/board.ts';

const AT = '2027-05-01T10:00:00.000Z';
const task = (words: string) => ({
  type: 'taskItem',
  attrs: { checked: false },
  content: [{ type: 'paragraph', content: [{ type: 'text', text: words }] }],
});
const page = (id: string, ...words: string[]): Lessons['lessons'][number] => ({
  ...{ id, date: '2027-04-30', title: `Lesson ${id}`, writtenAt: AT },
  text: { type: 'doc', content: [{ type: 'taskList', content: words.map(task) }] },
});
const base = boardOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm'].map(libraryMove),
    placed: [placed('p', 'waltz-underarm', barAt(24))],
    nextLesson: '2027-05-08T18:00',
  },
);
const before: Board = { ...base, lessons: { ...base.lessons!, lessons: [page('1', 'Box step')] } };
const last = seenNow(before, AT);

test('nothing is new on the board as it was, also after it was kept as text', () => {
  expect(newsSince(last, before, [])).toEqual([]);
  expect(newsSince(JSON.parse(JSON.stringify(last)), before, [])).toEqual([]);
});

test('what others have changed is told, each in a sentence', () => {
  const { plan, lessons } = before;
  const now: Board = {
    ...before,
    plan: {
      ...plan,
      nextLesson: '2027-05-09T18:30',
      venue: 'The Boathouse',
      placed: [placed('p', 'waltz-underarm', barAt(32))],
    },
    lessons: { ...lessons!, lessons: [page('1', 'Box step', 'Count aloud'), page('2')] },
  };
  expect(newsSince(last, now, [])).toEqual([
    'The venue is The Boathouse.',
    'The next lesson is on 9 May 2027, 18:30.',
    'A new page of lesson notes: Lesson 2.',
    'New homework: Count aloud.',
    'Underarm turn moved from 0:48 to 1:04.',
  ]);
});

test('what this device has changed itself is no news, and what others changed beside it is', () => {
  const own: OwnChange[] = [
    { area: 'plan', changes: [{ collection: 'placed', id: 'p', fields: { at: micros(barAt(32)) } }] },
    { area: 'plan', changes: [{ register: 'venue', value: 'The Boathouse' }] },
    { area: 'lessons', changes: [{ collection: 'lessons', id: '2', fields: { title: 'Ours' } }] },
  ];
  const { plan, lessons } = before;
  const now: Board = {
    ...before,
    plan: {
      ...plan,
      venue: 'The Boathouse',
      placed: [placed('p', 'waltz-underarm', barAt(32), 2)],
    },
    lessons: { ...lessons!, lessons: [...lessons!.lessons, page('2', 'Ours to do')] },
  };
  expect(newsSince(last, now, own)).toEqual(['Underarm turn at 1:04 is danced twice; it was once.']);
});
