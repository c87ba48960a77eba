import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { homework } from '../../app/_notes/homework.ts';
import { applyChanges, readArea, textOf } from '../../lib/board/area.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { newArea } from '../../lib/board/layout.ts';
import { writeRichText } from '../../lib/board/richText.ts';
import { tickTask } from '../../lib/board/tasks.ts';
import type { RichText } from '../../lib/core/areas/area.ts';
import { areas } from '../../lib/core/areas/board.ts';

const item = (words: string, ...inside: RichText[]): RichText => ({
  type: 'taskItem',
  attrs: { checked: false },
  content: [{ type: 'paragraph', content: [{ type: 'text', text: words }] }, ...inside],
});
const list = (...items: RichText[]): RichText => ({ type: 'taskList', content: items });
const text: RichText = {
  type: 'doc',
  content: [
    { type: 'paragraph', content: [{ type: 'text', text: 'Well danced.' }] },
    list(item('Box step', list(item('with eyes closed'))), item('Underarm turn')),
  ],
};

function lessonsDoc() {
  const doc = newArea(areas.lessons);
  const fields = { date: '2031-05-01', title: '', writtenAt: '2031-05-01T10:00:00.000Z' } as const;
  applyChanges(doc, areas.lessons, [{ collection: 'lessons', id: 'l', fields }]);
  writeRichText(textOf(doc, 'lessons', 'l')!, text);
  return doc;
}
const ticked = (doc: Y.Doc) => homework(readArea(doc, areas.lessons).lessons).map(({ done }) => done);

test('a line of homework is ticked at the place at which it is listed, also inside another', () => {
  const doc = lessonsDoc();
  const all = homework(readArea(doc, areas.lessons).lessons);
  expect(all.map(({ words }) => words)).toEqual(['Box step', 'with eyes closed', 'Underarm turn']);
  for (const [i, { place }] of all.entries()) {
    expect(tickTask(textOf(doc, 'lessons', 'l')!, place, true)).toBe(true);
    expect(ticked(doc)).toEqual(all.map((_, j) => j <= i));
  }
  expect(tickTask(textOf(doc, 'lessons', 'l')!, 0, false)).toBe(true);
  expect(ticked(doc)).toEqual([false, true, true]);
  expect(tickTask(textOf(doc, 'lessons', 'l')!, 3, true)).toBe(false);
});

test('a tick is a change that the server accepts, and two who tick at once both stand', () => {
  const [one, other] = [lessonsDoc(), new Y.Doc()];
  Y.applyUpdate(other, Y.encodeStateAsUpdate(one));
  tickTask(textOf(one, 'lessons', 'l')!, 0, true);
  tickTask(textOf(other, 'lessons', 'l')!, 2, true);
  const guard = new AreaGuard(areas.lessons);
  for (const doc of [one, other])
    expect(guard.check(Y.encodeStateAsUpdate(doc), { membership: 'couple', role: 'couple' }).ok).toBe(true);
  expect(ticked(guard.doc)).toEqual([true, false, true]);
});
