import { getSchema } from '@tiptap/core';
import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { homework, latestFirst } from '../../../app/_notes/homework.ts';
import { richExtensions } from '../../../app/_ui/richExtensions.ts';
import { richMarks, richNodes } from '../../../lib/board/richText.ts';
import type { RichText } from '../../../lib/core/areas/area.ts';
import type { Day, Instant } from '../../../lib/core/calendar.ts';

test('the editor knows exactly the nodes, attributes and marks that the server lets stand', () => {
  const schema = getSchema(richExtensions(new Y.Doc().getXmlFragment('text'), ''));
  const nodes = Object.entries(schema.nodes).filter(([name]) => name !== 'doc' && name !== 'text');
  const attributes = Object.fromEntries(
    nodes.map(([name, type]) => [name, Object.keys(type.spec.attrs ?? {}).sort()]),
  );
  expect(attributes).toEqual(
    Object.fromEntries([...richNodes].map(([name, attrs]) => [name, [...attrs.keys()].sort()])),
  );
  expect(Object.keys(schema.marks).sort()).toEqual([...richMarks].sort());
});

const words = (text: string): RichText => ({ type: 'paragraph', content: [{ type: 'text', text }] });
const task = (text: string, checked = false, ...inside: RichText[]): RichText => ({
  type: 'taskItem',
  attrs: { checked },
  content: [words(text), ...inside],
});
const page = (id: string, date: Day, writtenAt: Instant, ...content: RichText[]) => ({
  id,
  date,
  title: id,
  writtenAt,
  text: { type: 'doc', content },
});

describe('homework', () => {
  const first = page('first', '2027-05-01', '2027-05-01T10:00:00.000Z', words('A good start.'), {
    type: 'taskList',
    content: [task('walk to the music'), task('count aloud', true)],
  });
  const second = page('second', '2027-05-08', '2027-05-08T10:00:00.000Z', {
    type: 'taskList',
    content: [task('the turn', false, { type: 'taskList', content: [task('slowly')] }), task('   ')],
  });
  test('comes from all pages, the latest first, tasks inside tasks too, empty ones not', () => {
    expect(homework([first, second]).map(({ lesson, words: said, done }) => [lesson, said, done])).toEqual([
      ['second', 'the turn', false],
      ['second', 'slowly', false],
      ['first', 'walk to the music', false],
      ['first', 'count aloud', true],
    ]);
  });
  test('two pages of one day stand by when they were written', () => {
    const again = page('again', '2027-05-08', '2027-05-08T18:00:00.000Z');
    expect(latestFirst([first, second, again]).map(({ id }) => id)).toEqual(['again', 'second', 'first']);
  });
});
