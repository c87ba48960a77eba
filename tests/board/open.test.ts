import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea, textOf } from '../../lib/board/area.ts';
import { problemsOf } from '../../lib/board/fits.ts';
import { entriesOf, newArea, registersOf } from '../../lib/board/layout.ts';
import { openArea } from '../../lib/board/open.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { remark } from '../kit/remark.ts';

/** Somebody's page: each change gives the update that it sent. */
function page(clientID: number, from?: Y.Doc) {
  const doc = newArea(areas.plan);
  doc.clientID = clientID;
  if (from) Y.applyUpdate(doc, Y.encodeStateAsUpdate(from));
  return {
    doc,
    write(change: () => void): Uint8Array {
      const before = Y.encodeStateVector(doc);
      change();
      return Y.encodeStateAsUpdate(doc, before);
    },
    set(register: 'title' | 'venue' | 'instructor', value: string): Uint8Array {
      return this.write(() => applyChanges(doc, areas.plan, [{ register, value }]));
    },
  };
}
const open = (...updates: Uint8Array[]) => openArea(areas.plan, updates);
const noise = Uint8Array.from({ length: 60 }, (_, index) => (index * 73 + 11) % 256);

describe('a stored area of which something cannot be used', () => {
  test('opens as it is when all of it can', () => {
    const [one, other] = [page(1), page(2)];
    const opened = open(one.set('title', 'Ours'), other.set('venue', 'Barn'));
    expect([opened.unusable, opened.changes]).toEqual([[], []]);
    expect(readArea(opened.doc, areas.plan)).toMatchObject({ title: 'Ours', venue: 'Barn' });
  });

  test('an update that cannot be read is left out, the rest is there', () => {
    const [one, other] = [page(1), page(2)];
    const opened = open(one.set('title', 'Ours'), noise, other.set('venue', 'Barn'));
    expect(opened.unusable).toEqual([{ kind: 'update', bytes: noise, reason: 'It cannot be read.' }]);
    expect(readArea(opened.doc, areas.plan)).toMatchObject({ title: 'Ours', venue: 'Barn' });
  });

  test('what builds on a lost update is left out too, and what others wrote is not', () => {
    const [one, other] = [page(1), page(2)];
    const first = one.set('title', 'Ours');
    const cut = one.set('venue', 'Barn');
    const later = one.set('venue', 'Mill');
    const opened = open(first, cut.slice(0, -4), other.set('instructor', 'Rosa'), later);
    expect(opened.unusable.map(({ bytes, reason }) => [bytes, reason])).toEqual([
      [cut.slice(0, -4), 'It cannot be read.'],
      [later, 'It builds on one that is missing.'],
    ]);
    expect(readArea(opened.doc, areas.plan)).toMatchObject({
      title: 'Ours',
      venue: null,
      instructor: 'Rosa',
    });
    expect([opened.doc.store.pendingStructs, opened.doc.store.pendingDs]).toEqual([null, null]);
    // The page that still has it all brings it back.
    Y.applyUpdate(opened.doc, Y.encodeStateAsUpdate(one.doc, Y.encodeStateVector(opened.doc)));
    expect(readArea(opened.doc, areas.plan).venue).toBe('Mill');
  });

  test('a value that breaks the schema is taken out with its place and reason, and all else stays', () => {
    const one = page(1);
    const fine = one.set('title', 'Ours');
    const wrong = one.write(() => {
      registersOf(one.doc).set('phraseBars', 400);
      registersOf(one.doc).set('unheard', 'of');
      const cue = new Y.Map<unknown>();
      entriesOf(one.doc, 'cues').set('c1', cue);
      cue.set('word', 'bell');
    });
    const after = one.set('venue', 'Barn');
    const opened = open(fine, wrong, after);
    expect(
      opened.unusable.map(({ kind, bytes, reason }) => [kind, new TextDecoder().decode(bytes), reason]),
    ).toEqual([
      ['value', '{"registers":{"phraseBars":400}}', 'phraseBars: at most 32.'],
      ['value', '{"registers":{"unheard":"of"}}', 'The plan has no unheard.'],
      ['value', '{"cues":{"c1":{"word":"bell"}}}', 'cues, at: a number is needed.'],
    ]);
    expect([...registersOf(opened.doc).keys()].sort()).toEqual(['title', 'venue', 'version']);
    // What is stored besides gives the same document to whoever loads it next.
    const again = open(fine, wrong, after, ...opened.changes);
    expect([again.unusable, again.changes]).toEqual([[], []]);
    expect(readArea(again.doc, areas.plan)).toEqual(readArea(opened.doc, areas.plan));
  });

  test('any one row of a log may be cut, turned to noise or bitten at any byte: the area opens, and holds nothing that does not fit', () => {
    const [one, other] = [page(1), page(2)];
    const log: Uint8Array[] = [];
    for (let round = 0; round < 6; round++) {
      log.push(one.set('title', `Title ${round}`));
      log.push(
        other.write(() =>
          applyChanges(other.doc, areas.plan, [
            { collection: 'cues', id: `c${round}`, fields: { at: round as never, word: 'bell' } },
          ]),
        ),
      );
    }
    let asides = 0;
    for (let row = 0; row < log.length; row++) {
      const bytes = log[row]!;
      for (let at = 0; at < bytes.length; at++)
        for (const damaged of [
          bytes.slice(0, at),
          bytes.map((byte, index) => (index === at ? byte ^ 0x55 : byte)),
        ]) {
          const opened = open(...log.slice(0, row), damaged, ...log.slice(row + 1));
          asides += opened.unusable.length;
          expect(opened.doc.store.pendingStructs).toBeNull();
          const snapshot = Y.encodeStateAsUpdate(opened.doc);
          const again = open(snapshot);
          expect([again.unusable, again.changes]).toEqual([[], []]);
          expect(readArea(again.doc, areas.plan)).toEqual(readArea(opened.doc, areas.plan));
        }
    }
    expect(asides).toBeGreaterThan(100);
  });
});

describe('a note in which earlier versions let stand what may not', () => {
  const opened = (damage: (text: Y.XmlFragment, words: Y.XmlText) => void) => {
    const doc = newArea(areas.remarks);
    for (const id of ['r1', 'r2']) {
      applyChanges(doc, areas.remarks, [{ collection: 'remarks', id, fields: remark }]);
      const paragraph = new Y.XmlElement('paragraph');
      textOf(doc, 'remarks', id)!.insert(0, [paragraph]);
      paragraph.insert(0, [new Y.XmlText(`Words of ${id}`)]);
    }
    const text = textOf(doc, 'remarks', 'r1')!;
    damage(text, (text.get(0) as Y.XmlElement).get(0) as Y.XmlText);
    return openArea(areas.remarks, [Y.encodeStateAsUpdate(doc)]);
  };
  const nested = (parent: Y.XmlFragment, depth: number) => {
    let at = parent;
    for (let level = 0; level < depth; level++) {
      const quote = new Y.XmlElement('blockquote');
      at.insert(0, [quote]);
      at = quote;
    }
    at.insert(0, [new Y.XmlText('at the bottom')]);
  };
  const marked = (name: string, value: unknown) => (text: Y.XmlFragment) => {
    const element = new Y.XmlElement('heading');
    text.insert(1, [element]);
    element.setAttribute(name, value as string);
  };

  test.each<[string, (text: Y.XmlFragment, words: Y.XmlText) => void]>([
    ['an element that every object answers to', (text) => text.insert(1, [new Y.XmlElement('constructor')])],
    [
      'one with an attribute',
      (text) => {
        const element = new Y.XmlElement('constructor');
        text.insert(0, [element]);
        element.setAttribute('level', 'x');
      },
    ],
    ['a big integer', marked('level', 12n)],
    ['not a number', marked('level', Number.NaN)],
    ['an attribute of no such name', marked('toString', 'x')],
    ['a mark of no such name', (_text, words) => words.format(0, 5, { valueOf: {} } as never)],
    ['a thing in the words', (_text, words) => words.insertEmbed(5, { a: 1 })],
    ['a hook', (text) => text.insert(1, [new Y.XmlHook('constructor') as never])],
    ['3,000 quotations', (text) => nested(text, 3000)],
    ['5,000 quotations', (text) => nested(text, 5000)],
  ])('%s: only that is taken out, and set aside with all words', (_what, damage) => {
    const { doc, unusable, changes } = opened(damage);
    expect(unusable).toHaveLength(1);
    const aside = new TextDecoder().decode(unusable[0]!.bytes);
    expect(aside).toMatch(/Words/);
    const { remarks } = readArea(doc, areas.remarks);
    expect(remarks.map(({ id }) => id)).toEqual(['r1', 'r2']);
    for (const { id, text } of remarks) expect(JSON.stringify(text)).toContain(`Words of ${id}`);
    expect(changes).toHaveLength(1);
    expect(problemsOf(doc, areas.remarks)).toEqual([]);
    const again = openArea(areas.remarks, [Y.encodeStateAsUpdate(doc)]);
    expect([again.unusable, again.changes]).toEqual([[], []]);
    expect(readArea(again.doc, areas.remarks)).toEqual(readArea(doc, areas.remarks));
  });

  test('what lay deepest is set aside, too', () => {
    const { unusable } = opened((text) => nested(text, 5000));
    expect(new TextDecoder().decode(unusable[0]!.bytes)).toContain('at the bottom');
  });
});
