import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges } from '../../lib/board/area.ts';
import { newArea } from '../../lib/board/layout.ts';
import { areas } from '../../lib/core/areas/board.ts';
import type { Store, StoredLink } from '../../lib/store/store.ts';
import { rootsOf, type Sender } from '../../server/sync/limits.ts';
import { Room } from '../../server/sync/room.ts';

const AT = '2031-05-01T10:00:00.000Z';
const couple: Sender = { membership: 'couple', role: 'couple', root: 'couple' };
const instructor: Sender = { membership: 'instructor', role: 'instructor', root: 'instructor' };
/** Somebody whom the couple invited, and one whom they invited in turn, as far as rights go. */
const child = (name: string): Sender => ({ membership: name, role: 'couple', root: 'couple' });
const stranger = (name: string): Sender => ({ membership: name, role: 'couple', root: name });

function roomOf(
  stored: Uint8Array[] = [],
  roots = new Map<string, string>(),
  claims: [number, string][] = [],
) {
  let head = stored.length;
  const store = { areas: { append: async () => ++head } } as unknown as Store;
  const doc = newArea(areas.plan);
  for (const update of stored) Y.applyUpdate(doc, update);
  const area = {
    updates: stored,
    head,
    loose: 0,
    claims: claims.map(([client, membership]) => ({ client, membership })),
  };
  return new Room(store, 'b', 'plan', area, doc, () => undefined, undefined, undefined, undefined, roots);
}

/** A page whose every mark brings so many bytes; ids are its own. */
function page(name: string) {
  const doc = newArea(areas.plan);
  let marks = 0;
  const update = (change: () => void) => {
    const before = Y.encodeStateVector(doc);
    change();
    return Y.encodeStateAsUpdate(doc, before);
  };
  return {
    doc,
    mark: (bytes: number) =>
      update(() =>
        applyChanges(doc, areas.plan, [
          {
            collection: 'marks',
            id: `${name}${marks++}`,
            fields: { name: 'm', by: name, at: AT, state: 'x'.repeat(bytes) },
          },
        ]),
      ),
    remove: (mark: number) =>
      update(() =>
        applyChanges(doc, areas.plan, [{ collection: 'marks', id: `${name}${mark}`, fields: null }]),
      ),
  };
}
const writes = (room: Room, update: Uint8Array, sender: Sender) => {
  const result = room.write(update, sender, null);
  return result.ok ? 'taken' : result.problem.code;
};
/** Writes until it is refused; how many were taken. */
function fills(room: Room, sender: Sender, bytes = 200_000): number {
  const own = page(sender.membership);
  for (let taken = 0; taken < 100; taken++)
    if (writes(room, own.mark(bytes), sender) !== 'taken') return taken;
  return 100;
}

describe('what one link may write', () => {
  test('ends for it, and not for the others or the instructor', () => {
    const room = roomOf();
    expect(fills(room, couple)).toBe(5);
    expect(fills(room, couple)).toBe(0);
    expect(writes(room, page('dj').mark(1000), stranger('dj'))).toBe('taken');
    expect(writes(room, page('i').mark(200_000), instructor)).toBe('taken');
  });

  test('is shared by all links that were made with it, also those that wrote before the room was opened', () => {
    const room = roomOf();
    const taken = [fills(room, child('one')), fills(room, child('other')), fills(room, couple)];
    expect(taken.reduce((all, one) => all + one)).toBe(5);
    const before = page('one');
    const stored = [0, 1, 2].map(() => before.mark(300_000));
    const roots = new Map([
      ['one', 'couple'],
      ['couple', 'couple'],
    ]);
    const later = roomOf(stored, roots, [[before.doc.clientID, 'one']]);
    expect(fills(later, couple)).toBe(0);
    expect(fills(later, stranger('dj'))).toBe(5);
  });

  test('is counted in structs, too', () => {
    const room = roomOf();
    const doc = newArea(areas.plan);
    let before = Y.encodeStateVector(doc);
    let taken = 0;
    for (let round = 0; round < 40; round++) {
      // Two registers by turns, so that nothing is put together.
      doc.transact(() => {
        for (let index = 0; index < 500; index++) {
          doc.getMap('registers').set('title', `${index}`);
          doc.getMap('registers').set('venue', `${index}`);
        }
      });
      if (writes(room, Y.encodeStateAsUpdate(doc, before), couple) !== 'taken') break;
      before = Y.encodeStateVector(doc);
      taken += 1;
    }
    expect([taken >= 13, taken <= 15]).toEqual([true, true]);
  });

  test('leaves room again once something is removed, and removing is taken when all is full', () => {
    const room = roomOf();
    const own = page('couple');
    for (let mark = 0; mark < 5; mark++) expect(writes(room, own.mark(200_000), couple)).toBe('taken');
    const copy = newArea(areas.plan);
    Y.applyUpdate(copy, Y.encodeStateAsUpdate(room.doc));
    expect(writes(room, page('more').mark(200_000), couple)).toBe('too large');
    expect(writes(room, own.remove(0), couple)).toBe('taken');
    expect(writes(room, page('again').mark(150_000), couple)).toBe('taken');
  });

  test('what everybody has written leaves the instructor the rest', () => {
    const room = roomOf();
    let taken = 0;
    for (const name of ['a', 'b', 'c', 'd', 'e']) taken += fills(room, stranger(name));
    expect(taken).toBe(15);
    expect(writes(room, page('z').mark(200_000), stranger('z'))).toBe('too large');
    expect(fills(room, instructor)).toBe(5);
    // What is known already is no more than was there.
    expect(writes(room, Y.encodeStateAsUpdate(room.doc), stranger('z'))).toBe('taken');
  });
});

test('the root of a link is the first in the line of those that made it', () => {
  const link = (id: string, parent: string | null) => ({ id, parent }) as StoredLink;
  const links = [
    link('a', null),
    link('b', 'a'),
    link('c', 'b'),
    link('d', 'gone'),
    link('e', 'f'),
    link('f', 'e'),
  ];
  expect(Object.fromEntries(rootsOf(links))).toMatchObject({ a: 'a', b: 'a', c: 'a', d: 'gone' });
});
