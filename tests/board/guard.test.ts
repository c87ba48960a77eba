import * as encoding from 'lib0/encoding';
import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea, textOf } from '../../lib/board/area.ts';
import { AreaGuard } from '../../lib/board/guard.ts';
import { entriesOf, registersOf } from '../../lib/board/layout.ts';
import { openArea } from '../../lib/board/open.ts';
import { areaUpdate } from '../../lib/board/write.ts';
import { areas } from '../../lib/core/areas/board.ts';
import { emptyArea } from '../../lib/core/areas/empty.ts';
import { wholeSong } from '../../lib/core/edit/edit.ts';
import { recordTime } from '../../lib/core/units.ts';

const couple = { membership: 'm-couple' };
const dj = { membership: 'm-dj' };

/** A client's copy of an area, and what its gestures send. */
function client(guard: AreaGuard) {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(guard.doc));
  return {
    doc,
    send(gesture: () => void): Uint8Array {
      const updates: Uint8Array[] = [];
      const collect = (update: Uint8Array) => updates.push(update);
      doc.on('update', collect);
      doc.transact(gesture);
      doc.off('update', collect);
      return Y.mergeUpdates(updates);
    },
  };
}

/** Where a forged struct says to lie: its neighbours as they were when it was made, or what it lies in. */
interface Place {
  left?: [client: number, clock: number];
  right?: [client: number, clock: number];
  parent?: [client: number, clock: number];
  root?: string;
  key?: string;
}
type WriteStruct = (encoder: encoding.Encoder) => void;

/** Structs in Yjs's own encoding (V1), as nobody's page would make them. */
const Struct = {
  gone: (length: number): WriteStruct => {
    return (encoder) => {
      encoding.writeUint8(encoder, 0);
      encoding.writeVarUint(encoder, length);
    };
  },
  words: (words: string, place: Place): WriteStruct => {
    return (encoder) => {
      writePlace(encoder, 4, place);
      encoding.writeVarString(encoder, words);
    };
  },
  any: (value: string | number, place: Place): WriteStruct => {
    return (encoder) => {
      writePlace(encoder, 8, place);
      encoding.writeVarUint(encoder, 1);
      encoding.writeAny(encoder, value);
    };
  },
  map: (place: Place): WriteStruct => {
    return (encoder) => {
      writePlace(encoder, 7, place);
      encoding.writeVarUint(encoder, 1);
    };
  },
};

function writePlace(encoder: encoding.Encoder, content: number, { left, right, parent, root, key }: Place) {
  const writeId = ([client, clock]: [number, number]) => {
    encoding.writeVarUint(encoder, client);
    encoding.writeVarUint(encoder, clock);
  };
  encoding.writeUint8(encoder, content | (left ? 128 : 0) | (right ? 64 : 0) | (key ? 32 : 0));
  if (left) writeId(left);
  if (right) writeId(right);
  if (left || right) return;
  encoding.writeVarUint(encoder, root ? 1 : 0);
  if (root) encoding.writeVarString(encoder, root);
  else if (parent) writeId(parent);
  if (key) encoding.writeVarString(encoder, key);
}

/** An update of one struct, and of one removed element where it is told. */
function structs(client: number, clock: number, struct: WriteStruct, removed?: [number, number]): Uint8Array {
  return encoding.encode((encoder) => {
    for (const number of [1, 1, client, clock]) encoding.writeVarUint(encoder, number);
    struct(encoder);
    for (const number of removed ? [1, removed[0], 1, removed[1], 1] : [0])
      encoding.writeVarUint(encoder, number);
  });
}

/** A remark of the DJ's, without its words. */
const ofDj = {
  writer: 'm-dj',
  name: 'Ro',
  role: 'dj',
  at: '2027-05-02T10:00:00.000Z' as const,
  about: '',
} as const;

describe('an area guarded by its shape', () => {
  test('a change that satisfies the shape is applied, and known a second time', () => {
    const guard = new AreaGuard(areas.plan);
    const page = client(guard);
    const update = page.send(() =>
      applyChanges(page.doc, areas.plan, [{ register: 'edit', value: wholeSong }]),
    );
    expect(guard.check(update, couple)).toEqual({ ok: true, value: { changed: true } });
    expect(guard.check(update, couple)).toEqual({ ok: true, value: { changed: false } });
    expect(readArea(guard.doc, areas.plan).edit).toEqual(wholeSong);
  });

  const title = Struct.any('a', { root: 'registers', key: 'title' });
  test('a struct without length is refused, and with it what another document could not take', () => {
    const guard = new AreaGuard(areas.plan);
    expect(guard.check(structs(9, 0, title), couple).ok).toBe(true);
    expect(guard.check(structs(9, 1, Struct.gone(0)), couple)).toMatchObject({
      problem: { code: 'malformed' },
    });
    // Where the one without length lay, this finds it to its left; the document that is made again has nothing there.
    expect(guard.check(structs(9, 1, Struct.any('b', { left: [9, 1] })), couple).ok).toBe(false);
    expect(guard.check(Uint8Array.of(9, 9), couple).ok).toBe(false);
    expect(readArea(guard.doc, areas.plan).title).toBe('a');
    expect(openArea(areas.plan, [Y.encodeStateAsUpdate(guard.doc)]).unusable).toEqual([]);
  });

  test.each([
    ['to its left', Struct.any('b', { left: [9, 3] })],
    ['to its right', Struct.any('b', { right: [9, 3] })],
    ['around it', Struct.any('b', { parent: [9, 3], key: 'title' })],
  ])('a struct is refused that has %s what its own client makes later', (_, early) => {
    const guard = new AreaGuard(areas.plan);
    for (let clock = 0; clock < 4; clock++) guard.check(structs(9, clock, title), couple);
    expect(guard.check(structs(9, 1, early), couple)).toMatchObject({ problem: { code: 'malformed' } });
  });

  test('updates that do not go in together are made again one by one, as they were accepted', () => {
    const guard = new AreaGuard(areas.plan);
    const taken = [
      // A map that is removed at once, something in it, and its own client's words, told otherwise than before, to the right of that.
      structs(2, 0, Struct.map({ root: 'cues', key: 'c' }), [2, 0]),
      structs(1, 0, Struct.any('a', { parent: [2, 0], key: 'word' })),
      structs(2, 0, Struct.words('xx', { left: [1, 0] })),
      structs(3, 0, title),
    ];
    for (const update of taken) expect(guard.check(update, couple).ok).toBe(true);
    const before = Y.encodeStateAsUpdate(guard.doc);
    expect(() => {
      const doc = new Y.Doc();
      doc.transact(() => {
        for (const update of taken) Y.applyUpdate(doc, update);
      });
    }).toThrow();
    expect(guard.check(Uint8Array.of(9, 9), couple).ok).toBe(false);
    expect(guard.check(structs(4, 0, Struct.any(1, { root: 'registers', key: 'date' })), couple).ok).toBe(
      false,
    );
    expect(Y.encodeStateAsUpdate(guard.doc)).toEqual(before);
  });

  test('where what was accepted cannot be made again, it throws rather than go on with less', () => {
    const guard = new AreaGuard(areas.plan);
    const page = client(guard);
    const edit = page.send(() =>
      applyChanges(page.doc, areas.plan, [{ register: 'edit', value: wholeSong }]),
    );
    guard.check(edit, couple);
    // No update that is accepted is known to do this: put in by hand.
    (Reflect.get(guard, 'accepted') as Uint8Array[]).push(edit.slice(0, -3));
    const wrong = page.send(() => void registersOf(page.doc).set('date', 'tomorrow'));
    expect(() => guard.check(wrong, couple)).toThrow();
  });

  test.each([
    ['a register of no such name', (doc: Y.Doc) => registersOf(doc).set('nonsense', 1)],
    ['a value that is not valid', (doc: Y.Doc) => registersOf(doc).set('date', 'tomorrow')],
    ['a root of no such name', (doc: Y.Doc) => doc.getMap('elsewhere').set('a', 1)],
    ['an entry that is no map', (doc: Y.Doc) => doc.getMap('cues').set('c1', 'word')],
    [
      'an entry with a field too many',
      (doc: Y.Doc) =>
        entriesOf(doc, 'cues').set('c1', new Y.Map(Object.entries({ at: 1, word: 'bell', more: 1 }))),
    ],
    ['another version', (doc: Y.Doc) => registersOf(doc).set('version', 99)],
  ])('%s is refused and leaves no trace', (_, gesture) => {
    const guard = new AreaGuard(areas.plan);
    const before = Y.encodeStateAsUpdate(guard.doc);
    const page = client(guard);
    expect(
      guard.check(
        page.send(() => gesture(page.doc)),
        couple,
      ).ok,
    ).toBe(false);
    expect(Y.encodeStateAsUpdate(guard.doc)).toEqual(before);
    const other = client(guard);
    const fine = other.send(() =>
      applyChanges(other.doc, areas.plan, [{ register: 'title', value: 'fine' }]),
    );
    expect(guard.check(fine, couple).ok).toBe(true);
  });

  test('a refusal after many changes, some of them checked elsewhere, takes back none of them', () => {
    const guard = new AreaGuard(areas.plan);
    const [here, elsewhere] = [client(guard), client(guard)];
    const title = (page: typeof here, value: string) =>
      page.send(() => applyChanges(page.doc, areas.plan, [{ register: 'title', value }]));
    for (let change = 0; change < 600; change++) {
      expect(guard.check(title(here, `Title ${change}`), couple).ok).toBe(true);
      if (change % 100 !== 0) continue;
      const cue = {
        collection: 'cues',
        id: `c${change}`,
        fields: { at: recordTime(1), word: 'bell' },
      } as const;
      const update = elsewhere.send(() => applyChanges(elsewhere.doc, areas.plan, [cue]));
      if (change % 200 === 0) guard.add(update);
      else expect(guard.take(update)).toHaveLength(1);
    }
    const before = readArea(guard.doc, areas.plan);
    const vector = Y.encodeStateVector(guard.doc);
    const forged = here.send(() => registersOf(here.doc).set('date', 'tomorrow'));
    expect(guard.check(forged, couple).ok).toBe(false);
    expect(readArea(guard.doc, areas.plan)).toEqual(before);
    expect(before.cues).toHaveLength(6);
    expect(Y.decodeStateVector(Y.encodeStateVector(guard.doc))).toEqual(Y.decodeStateVector(vector));
  });

  test('bytes that are no update, and an update that builds on a missing one, are refused', () => {
    const guard = new AreaGuard(areas.plan);
    expect(guard.check(new Uint8Array([1, 2, 3, 255, 255]), couple).ok).toBe(false);
    const page = client(guard);
    page.send(() => applyChanges(page.doc, areas.plan, [{ register: 'title', value: 'first' }]));
    const second = page.send(() =>
      applyChanges(page.doc, areas.plan, [{ register: 'title', value: 'second' }]),
    );
    expect(guard.check(second, couple)).toMatchObject({ ok: false, problem: { code: 'gap' } });
  });

  test('only the one who wrote a remark changes it', () => {
    const guard = new AreaGuard(areas.remarks);
    const page = client(guard);
    const write = page.send(() =>
      applyChanges(page.doc, areas.remarks, [{ collection: 'remarks', id: 'r1', fields: ofDj }]),
    );
    expect(guard.check(write, couple).ok).toBe(false);
    expect(guard.check(write, dj).ok).toBe(true);
    const typing = page.send(() => {
      const paragraph = new Y.XmlElement('paragraph');
      paragraph.insert(0, [new Y.XmlText('Loud enough?')]);
      textOf(page.doc, 'remarks', 'r1')!.insert(0, [paragraph]);
    });
    expect(guard.check(typing, couple).ok).toBe(false);
    expect(guard.check(typing, dj).ok).toBe(true);
    const remove = page.send(() =>
      applyChanges(page.doc, areas.remarks, [{ collection: 'remarks', id: 'r1', fields: null }]),
    );
    expect(guard.check(remove, couple).ok).toBe(false);
    expect(guard.check(remove, dj).ok).toBe(true);
  });

  test('the instructor may remove any remark and bring it back as it was, and alter none', () => {
    const instructor = { membership: 'instructor', role: 'instructor' } as const;
    const guard = new AreaGuard(areas.remarks);
    const writer = client(guard);
    const say = (doc: Y.Doc, words: string, fields: object = ofDj) => {
      applyChanges(doc, areas.remarks, [{ collection: 'remarks', id: 'r1', fields }]);
      const paragraph = new Y.XmlElement('paragraph');
      textOf(doc, 'remarks', 'r1')!.insert(0, [paragraph]);
      paragraph.insert(0, [new Y.XmlText(words)]);
    };
    const remove = (page: typeof writer) =>
      page.send(() =>
        applyChanges(page.doc, areas.remarks, [{ collection: 'remarks', id: 'r1', fields: null }]),
      );
    expect(
      guard.check(
        writer.send(() => say(writer.doc, 'Loud enough?')),
        dj,
      ).ok,
    ).toBe(true);
    const altering = client(guard);
    const altered = altering.send(() =>
      textOf(altering.doc, 'remarks', 'r1')!.insert(0, [new Y.XmlElement('hardBreak')]),
    );
    expect(guard.check(altered, instructor).ok).toBe(false);
    const swapping = client(guard);
    const swapped = swapping.send(() => {
      entriesOf(swapping.doc, 'remarks').delete('r1');
      say(swapping.doc, 'Too loud!');
    });
    expect(guard.check(swapped, instructor).ok).toBe(false);
    expect(guard.check(remove(client(guard)), couple).ok).toBe(false);

    const removed = remove(client(guard));
    expect(guard.check(removed, instructor)).toEqual({ ok: true, value: { changed: true } });
    expect(readArea(guard.doc, areas.remarks).remarks).toEqual([]);
    const bringing = (words: string, by: typeof instructor | typeof couple) => {
      const page = client(guard);
      return guard.check(
        page.send(() => say(page.doc, words)),
        by,
      ).ok;
    };
    expect([bringing('Too loud!', instructor), bringing('Loud enough?', couple)]).toEqual([false, false]);
    expect(bringing('Loud enough?', instructor)).toBe(true);
    expect(readArea(guard.doc, areas.remarks).remarks).toMatchObject([{ id: 'r1', writer: 'm-dj' }]);
  });

  test('who reads a remark may tidy up its formatting, as every page does, and not change what it says', () => {
    const log: Uint8Array[] = [];
    const writer = client(new AreaGuard(areas.remarks));
    const words = (doc: Y.Doc) => {
      const paragraph = textOf(doc, 'remarks', 'r1')!.get(0) as Y.XmlElement;
      return paragraph.get(0) as Y.XmlText;
    };
    const write = writer.send(() => {
      applyChanges(writer.doc, areas.remarks, [{ collection: 'remarks', id: 'r1', fields: ofDj }]);
      const paragraph = new Y.XmlElement('paragraph');
      paragraph.insert(0, [new Y.XmlText('Loud enough?')]);
      textOf(writer.doc, 'remarks', 'r1')!.insert(0, [paragraph]);
    });
    log.push(write);
    // Two pages of its writer make the same word bold: one pair of marks is too many.
    for (const page of [writer, client(new AreaGuard(areas.remarks, openArea(areas.remarks, [write]).doc))])
      log.push(page.send(() => words(page.doc).format(0, 4, { bold: {} })));
    const reader = new Y.Doc();
    const tidied: Uint8Array[] = [];
    reader.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'server') tidied.push(update);
    });
    for (const update of log) Y.applyUpdate(reader, update, 'server');
    expect(tidied.length).toBeGreaterThan(0);

    const guard = new AreaGuard(areas.remarks, openArea(areas.remarks, log).doc);
    const before = readArea(guard.doc, areas.remarks);
    expect(guard.check(Y.encodeStateAsUpdate(reader), couple).ok).toBe(true);
    expect(readArea(guard.doc, areas.remarks)).toEqual(before);
    const vector = Y.encodeStateVector(reader);
    words(reader).format(0, 4, { bold: null });
    const plain = Y.encodeStateAsUpdate(reader, vector);
    expect(guard.check(plain, couple).ok).toBe(false);
    expect(readArea(guard.doc, areas.remarks)).toEqual(before);
  });

  test('a rich text may hold only what is on the list', () => {
    const guard = new AreaGuard(areas.lessons);
    const page = client(guard);
    const fields = {
      date: '2027-05-02' as const,
      title: 'First lesson',
      writtenAt: '2027-05-02T10:00:00.000Z' as const,
    };
    expect(
      guard.check(
        page.send(() => applyChanges(page.doc, areas.lessons, [{ collection: 'lessons', id: 'l1', fields }])),
        couple,
      ).ok,
    ).toBe(true);
    const script = page.send(() =>
      textOf(page.doc, 'lessons', 'l1')!.insert(0, [new Y.XmlElement('script')]),
    );
    expect(guard.check(script, couple).ok).toBe(false);
    expect(readArea(guard.doc, areas.lessons).lessons[0]?.text).toEqual({ type: 'doc', content: [] });
  });

  test('what is written in a formatted text is a change like any other, and checked like any other', () => {
    const guard = new AreaGuard(areas.lessons);
    const page = client(guard);
    const fields = {
      date: '2027-05-02' as const,
      title: 'First lesson',
      writtenAt: '2027-05-02T10:00:00.000Z' as const,
    };
    const words = new Y.XmlText();
    const lesson = page.send(() => {
      applyChanges(page.doc, areas.lessons, [{ collection: 'lessons', id: 'l1', fields }]);
      const paragraph = new Y.XmlElement('paragraph');
      textOf(page.doc, 'lessons', 'l1')!.insert(0, [paragraph]);
      paragraph.insert(0, [words]);
      words.insert(0, 'Eyes up', { bold: {} });
    });
    const changed = { ok: true, value: { changed: true } };
    expect(guard.check(lesson, couple)).toEqual(changed);
    const on = page.send(() => words.insert(7, ', always', {}));
    expect(guard.check(on, couple)).toEqual(changed);
    const plain = page.send(() => words.format(0, 7, { bold: null }));
    expect(guard.check(plain, couple)).toEqual(changed);
    const before = readArea(guard.doc, areas.lessons);
    const forged = page.send(() => words.format(0, 4, { blink: {} }));
    expect(guard.check(forged, couple).ok).toBe(false);
    expect(readArea(guard.doc, areas.lessons)).toEqual(before);
  });

  test('any merge of two accepted documents is accepted', () => {
    const one = areaUpdate(areas.plan, {
      ...emptyArea(areas.plan),
      title: 'One',
      cues: [{ id: 'c', at: recordTime(1), word: 'bell' }],
    });
    const two = areaUpdate(areas.plan, {
      ...emptyArea(areas.plan),
      title: 'Two',
      cues: [{ id: 'c', at: recordTime(2), word: 'low' }],
    });
    const guard = new AreaGuard(areas.plan, openArea(areas.plan, [one]).doc);
    expect(guard.check(two, couple).ok).toBe(true);
    const other = new AreaGuard(areas.plan, openArea(areas.plan, [two]).doc);
    expect(other.check(one, couple).ok).toBe(true);
    expect(readArea(guard.doc, areas.plan)).toEqual(readArea(other.doc, areas.plan));
  });
});
