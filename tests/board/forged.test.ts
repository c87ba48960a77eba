import * as encoding from 'lib0/encoding';
import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea, textOf } from '../../lib/board/area.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { entriesOf, newArea, registersOf } from '../../lib/board/layout.ts';
import { openArea } from '../../lib/board/open.ts';
import { readUpdate } from '../../lib/board/possible.ts';
import { DEEPEST, richTextOf } from '../../lib/board/richText.ts';
import { type AreaName, areas } from '../../lib/core/areas/board.ts';

const couple = { membership: 'm-couple', role: 'couple' } as const;
const inherited = Object.getOwnPropertyNames(Object.prototype);
const remark = {
  writer: couple.membership,
  name: 'Ida',
  role: 'couple',
  at: '2027-05-02T10:00:00.000Z',
  about: '',
} as const;
const cue = { at: 1, word: 'bell' };

/** A guard with a title, a cue or a remark of two words in it, and a page that knows them. */
function opened(area: AreaName) {
  const page = newArea(areas[area]);
  page.clientID = 11;
  if (area === 'remarks') {
    applyChanges(page, areas.remarks, [{ collection: 'remarks', id: 'r1', fields: remark }]);
    const paragraph = new Y.XmlElement('paragraph');
    textOf(page, 'remarks', 'r1')!.insert(0, [paragraph]);
    paragraph.insert(0, [new Y.XmlText('Eyes up')]);
  } else {
    applyChanges(page, areas.plan, [
      { register: 'title', value: 'Slow' },
      { collection: 'cues', id: 'c1', fields: cue as never },
    ]);
  }
  const guard = new AreaGuard(areas[area]);
  const first = Y.encodeStateAsUpdate(page);
  expect(guard.check(first, couple).ok).toBe(true);
  return { guard, page, first };
}

/** One update with something harmless and something forged: it is refused, and leaves no trace anywhere. */
function refuses(area: AreaName, forge: (page: Y.Doc) => void) {
  const { guard, page, first } = opened(area);
  const stored = [first];
  const before = Y.encodeStateAsUpdate(guard.doc);
  const read = JSON.stringify(guard.read());
  const vector = Y.encodeStateVector(page);
  page.transact(() => {
    if (area === 'remarks') {
      const words = new Y.XmlElement('paragraph');
      textOf(page, 'remarks', 'r1')!.insert(0, [words]);
      words.insert(0, [new Y.XmlText('Harmless')]);
    } else registersOf(page).set('venue', 'Mill');
    forge(page);
  });
  const forged = Y.encodeStateAsUpdate(page, vector);
  expect(guard.check(forged, couple).ok).toBe(false);
  expect(Y.encodeStateAsUpdate(guard.doc)).toEqual(before);
  expect(JSON.stringify(guard.read())).toBe(read);
  expect(JSON.stringify(readArea(guard.doc, areas[area]))).toBe(read);
  // What comes after is accepted, and is what the store gives back.
  const after = newArea(areas[area]);
  Y.applyUpdate(after, before);
  const known = Y.encodeStateVector(after);
  if (area === 'remarks') textOf(after, 'remarks', 'r1')!.insert(0, [new Y.XmlElement('hardBreak')]);
  else registersOf(after).set('title', 'After');
  const next = Y.encodeStateAsUpdate(after, known);
  expect(guard.check(next, couple)).toEqual({ ok: true, value: { changed: true } });
  stored.push(next);
  const again = openArea(areas[area], stored);
  expect([again.unusable, again.changes]).toEqual([[], []]);
  expect(readArea(again.doc, areas[area])).toEqual(readArea(guard.doc, areas[area]));
}

const paragraphOf = (page: Y.Doc): Y.XmlElement => textOf(page, 'remarks', 'r1')!.get(0) as Y.XmlElement;
const addElement = (page: Y.Doc, name: string) =>
  textOf(page, 'remarks', 'r1')!.insert(0, [new Y.XmlElement(name)]);

describe.each(inherited)('a name that every object answers to: %s', (name) => {
  test('as a tag, an attribute or a mark', () => {
    refuses('remarks', (page) => addElement(page, name));
    refuses('remarks', (page) => paragraphOf(page).setAttribute(name, 'x'));
    refuses('remarks', (page) => {
      const element = new Y.XmlElement(name);
      textOf(page, 'remarks', 'r1')!.insert(0, [element]);
      element.setAttribute('level', 'x');
    });
    refuses('remarks', (page) => {
      const text = new Y.XmlText();
      paragraphOf(page).insert(0, [text]);
      text.insert(0, 'x', { [name === '__proto__' ? 'blink' : name]: {} });
    });
  });

  test('as a register, an entry, or a field of one', () => {
    refuses('plan', (page) => registersOf(page).set(name, 'x'));
    refuses('plan', (page) => void entriesOf(page, 'cues').set(name, new Y.Map(Object.entries(cue))));
    refuses('plan', (page) => void entriesOf(page, 'cues').get('c1')!.set(name, 'x'));
    refuses('plan', (page) => void page.getMap(name).set('a', 1));
    refuses('remarks', (page) => void entriesOf(page, 'remarks').get('r1')!.set(name, 'x'));
  });
});

const deep = (depth: number): unknown => (depth === 0 ? 1 : [deep(depth - 1)]);
/** Everything that Yjs can carry as a value, and JSON, or a board, cannot. */
const values: [string, () => unknown][] = [
  ['a big integer', () => 12n],
  ['undefined', () => undefined],
  ['bytes', () => Uint8Array.of(1, 2)],
  ['not a number', () => Number.NaN],
  ['more than any number', () => Number.POSITIVE_INFINITY],
  ['a big integer in a list', () => [1, [12n]]],
  ['undefined by a name', () => ({ a: undefined })],
  ['bytes in a list', () => [Uint8Array.of(1)]],
  ['what is too deep', () => deep(30)],
  ['a million letters', () => 'x'.repeat(1_000_000)],
  ['a map of its own', () => new Y.Map([['a', 1]])],
  ['a list of its own', () => Y.Array.from([1])],
  ['a text of its own', () => new Y.Text('words')],
  ['an element of its own', () => new Y.XmlElement('paragraph')],
  ['a formatted text of its own', () => new Y.XmlText('words')],
  ['a hook', () => new Y.XmlHook('hook')],
  ['a document', () => new Y.Doc()],
];

describe.each(values)('%s', (_what, value) => {
  test('is no value of a register, an entry, a field or an attribute', () => {
    refuses('plan', (page) => registersOf(page).set('venue', value()));
    refuses('plan', (page) => registersOf(page).set('target', value()));
    refuses('plan', (page) => void entriesOf(page, 'cues').set('c2', value() as never));
    refuses('plan', (page) => void entriesOf(page, 'cues').get('c1')!.set('word', value()));
    refuses('plan', (page) => void entriesOf(page, 'cues').get('c1')!.set('text', value()));
    refuses('remarks', (page) => void entriesOf(page, 'remarks').get('r1')!.set('name', value()));
    refuses('remarks', (page) => {
      const heading = new Y.XmlElement('heading');
      textOf(page, 'remarks', 'r1')!.insert(0, [heading]);
      heading.setAttribute('level', value() as string);
    });
  });
});

/** What an object read from bytes is when one of its names is `__proto__`. */
function withPrototype(): Uint8Array {
  return encoding.encode((encoder) => {
    for (const number of [1, 1, 99, 0]) encoding.writeVarUint(encoder, number);
    encoding.writeUint8(encoder, 8 | 32);
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarString(encoder, 'registers');
    encoding.writeVarString(encoder, 'target');
    encoding.writeVarUint(encoder, 1);
    encoding.writeUint8(encoder, 118);
    encoding.writeVarUint(encoder, 1);
    encoding.writeVarString(encoder, '__proto__');
    encoding.writeAny(encoder, { length: 180, within: 10 });
    encoding.writeVarUint(encoder, 0);
  });
}

describe('forged content', () => {
  test('a value that would inherit what the schema asks for is refused', () => {
    const { guard } = opened('plan');
    expect(guard.check(withPrototype(), couple)).toMatchObject({ ok: false });
    expect(guard.read()).toMatchObject({ target: null });
  });

  test.each<[string, (page: Y.Doc) => void]>([
    [
      'an element in the words of a note',
      (page) => (paragraphOf(page).get(0) as Y.XmlText).insertEmbed(0, { a: 1 }),
    ],
    ['a level that no heading has', (page) => forgeAttribute(page, 'heading', 'level', 9)],
    ['a level in words', (page) => forgeAttribute(page, 'heading', 'level', 'one')],
    ['a tick that is neither', (page) => forgeAttribute(page, 'taskItem', 'checked', 'perhaps')],
    ['a list that starts at a half', (page) => forgeAttribute(page, 'orderedList', 'start', 0.5)],
    [
      'a mark with attributes',
      (page) => (paragraphOf(page).get(0) as Y.XmlText).format(0, 3, { bold: { a: 1 } }),
    ],
    ['an attribute of words', (page) => (paragraphOf(page).get(0) as Y.XmlText).setAttribute('a', 'b')],
    ['a list among the registers', (page) => page.getMap('remarks').set('r2', new Y.Array() as never)],
    [
      'more parts than a note has',
      (page) => {
        const parts = Array.from({ length: 5000 }, () => new Y.XmlElement('hardBreak'));
        textOf(page, 'remarks', 'r1')!.insert(0, parts);
      },
    ],
  ])('%s is refused', (_what, forge) => refuses('remarks', forge));

  test.each([DEEPEST + 1, 300, 3000, 5000])(
    'quotations %i deep are refused, at once or one after the other',
    (depth) => {
      refuses('remarks', (page) => nest(textOf(page, 'remarks', 'r1')!, depth));
    },
  );

  test('as deep as may be is taken, and one more afterwards is not', () => {
    const { guard, page } = opened('remarks');
    let vector = Y.encodeStateVector(page);
    const inner = page.transact(() => nest(textOf(page, 'remarks', 'r1')!, DEEPEST));
    expect(guard.check(Y.encodeStateAsUpdate(page, vector), couple).ok).toBe(true);
    vector = Y.encodeStateVector(page);
    inner.insert(0, [new Y.XmlText('within')]);
    expect(guard.check(Y.encodeStateAsUpdate(page, vector), couple).ok).toBe(true);
    vector = Y.encodeStateVector(page);
    inner.insert(1, [new Y.XmlElement('blockquote')]);
    expect(guard.check(Y.encodeStateAsUpdate(page, vector), couple)).toMatchObject({ ok: false });
  });

  test('what a document holds too deep all the same is read as far as it may go', () => {
    const doc = newArea(areas.remarks);
    applyChanges(doc, areas.remarks, [{ collection: 'remarks', id: 'r1', fields: remark }]);
    nest(textOf(doc, 'remarks', 'r1')!, 5000);
    const text = JSON.stringify(richTextOf(textOf(doc, 'remarks', 'r1')!));
    expect(text.split('blockquote')).toHaveLength(DEEPEST + 1);
  });

  test('whatever throws while an update is tried leaves the document as it was', () => {
    const { guard, page } = opened('plan');
    const before = Y.encodeStateAsUpdate(guard.doc);
    const vector = Y.encodeStateVector(page);
    registersOf(page).set('venue', 'Mill');
    const update = Y.encodeStateAsUpdate(page, vector);
    const throwing = () => {
      throw new Error('judging failed');
    };
    expect(() => guard.check(update, couple, undefined, throwing)).toThrow('judging failed');
    expect(Y.encodeStateAsUpdate(guard.doc)).toEqual(before);
    registersOf(guard.doc).observe(throwing);
    expect(guard.check(update, couple)).toMatchObject({ ok: false });
    expect(Y.encodeStateAsUpdate(guard.doc)).toEqual(before);
    expect(guard.check(update, couple)).toEqual({ ok: true, value: { changed: true } });
  });
});

function forgeAttribute(page: Y.Doc, node: string, name: string, value: unknown): void {
  const element = new Y.XmlElement(node);
  textOf(page, 'remarks', 'r1')!.insert(0, [element]);
  element.setAttribute(name, value as string);
}

/** Quotations inside each other; the innermost one. */
function nest(fragment: Y.XmlFragment, depth: number): Y.XmlFragment {
  let at = fragment;
  for (let level = 0; level < depth; level++) {
    const quote = new Y.XmlElement('blockquote');
    at.insert(0, [quote]);
    at = quote;
  }
  return at;
}

test('a mark whose value lies too deep to be written out is refused, and ends no room', () => {
  const { guard, page } = opened('remarks');
  const vector = Y.encodeStateVector(page);
  (paragraphOf(page).get(0) as Y.XmlText).format(0, 4, { bold: {} });
  const update = Y.encodeStateAsUpdate(page, vector);
  const read = readUpdate(update)!;
  let deep: object = {};
  for (let level = 0; level < 100_000; level++) deep = { deep };
  for (const struct of read.structs)
    if (struct instanceof Y.Item && struct.content instanceof Y.ContentFormat) struct.content.value = deep;
  expect(guard.check(update, couple, read)).toMatchObject({ ok: false, problem: { code: 'invalid' } });
});
