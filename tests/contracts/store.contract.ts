import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { ClaimTaken, type Store, type StoredFile } from '../../lib/store/store.ts';

const AT = '2031-05-01T10:00:00.000Z';
const BY = { membership: 'm', at: AT };
const bytes = (...values: number[]): Uint8Array => Uint8Array.from(values);

export interface StoreUnderTest {
  store: Store;
  /** Closes and opens it on what was kept. */
  reopen(): Promise<Store>;
  end(): Promise<void>;
}

/** What every adapter of the store holds to. */
export function storeContract(name: string, open: () => Promise<StoreUnderTest>): void {
  describe(`store contract: ${name}`, () => {
    let under: StoreUnderTest;
    let store: Store;
    beforeEach(async () => {
      under = await open();
      store = under.store;
      await store.boards.add('b1', AT, []);
    });
    afterEach(() => under.end());

    const link = {
      id: 'l1',
      board: 'b1',
      role: 'dj',
      hash: 'h1',
      madeAt: AT,
      endsAt: null,
      revokedAt: null,
      parent: null,
      frozenAt: null,
    } as const;

    /** Keeps these bytes, or as many zeros as the file has. */
    async function addFile(board: string, file: StoredFile, content = new Uint8Array(file.bytes)) {
      const path = join(await mkdtemp(join(tmpdir(), 'larkstep-file-')), 'part');
      await writeFile(path, content);
      await store.files.add(board, file, path);
      await rm(dirname(path), { recursive: true });
    }

    test('the bytes of a file come back, whole or in part', async () => {
      // More than one of the pieces in which they may be kept.
      const content = Uint8Array.from({ length: 2_500_000 }, (_, index) => (index * 7919) % 251);
      const id = 'a'.repeat(64);
      await addFile('b1', { id, bytes: content.length, type: 'audio/wav' }, content);
      await addFile('b1', { id, bytes: content.length, type: 'audio/wav' }, content);
      const read = async (from: number, to: number) =>
        Buffer.from(await new Response(store.files.read(id, from, to)).arrayBuffer());
      for (const [from, to] of [
        [0, content.length - 1],
        [0, 0],
        [999_999, 1_000_000],
        [1_048_576, 2_097_151],
        [2_499_999, 2_499_999],
      ] as const)
        expect(Buffer.compare(await read(from, to), content.subarray(from, to + 1)), `${from}`).toBe(0);
    });

    test('an area gives back its updates in order, each area its own', async () => {
      expect(await store.areas.append('b1', 'plan', bytes(1), [], BY)).toBe(1);
      expect(await store.areas.append('b1', 'plan', bytes(2, 2), [], BY)).toBe(2);
      expect(await store.areas.append('b1', 'show', bytes(9), [], BY)).toBe(1);
      const plan = await store.areas.load('b1', 'plan');
      expect(plan).toEqual({ updates: [bytes(1), bytes(2, 2)], head: 2, loose: 2, claims: [] });
      expect((await store.areas.load('b1', 'lessons')).head).toBe(0);
    });

    test('writes asked for together settle in order, and one that fails takes no other with it', async () => {
      const settled: string[] = [];
      const note = (word: string) => () => settled.push(word);
      await Promise.all([
        store.areas.append('b1', 'plan', bytes(1), [], BY).then(note('one')),
        store.areas.append('gone', 'plan', bytes(1), [], BY).catch(note('gone')),
        store.areas.append('b1', 'plan', bytes(2), [], BY).then(note('two')),
      ]);
      expect(settled).toEqual(['one', 'gone', 'two']);
      expect((await store.areas.load('b1', 'plan')).head).toBe(2);
    });

    test('a snapshot stands for the updates up to its number, later ones stay beside it', async () => {
      for (const value of [1, 2, 3]) await store.areas.append('b1', 'plan', bytes(value), [], BY);
      await store.areas.compact('b1', 'plan', 2, bytes(12));
      expect((await store.areas.load('b1', 'plan')).updates).toEqual([bytes(12), bytes(3)]);
      await store.areas.compact('b1', 'plan', 1, bytes(99));
      expect((await store.areas.load('b1', 'plan')).updates).toEqual([bytes(12), bytes(3)]);
      expect(await store.areas.append('b1', 'plan', bytes(4), [], BY)).toBe(4);
    });

    /** One update a minute, numbered from 1, each by a membership of its own. */
    const minute = (number: number) => `2031-05-01T10:${String(number).padStart(2, '0')}:00.000Z`;
    const write = (value: number) =>
      store.areas.append('b1', 'plan', bytes(value), [], { membership: `m${value}`, at: minute(value) });

    test('an area can be had as of any write, and what was written since, whatever snapshots replaced', async () => {
      expect(await store.areas.asOf('b1', 'plan', minute(1))).toEqual({
        updates: [],
        number: 0,
        base: 0,
        at: minute(1),
      });
      for (const value of [1, 2, 3, 4]) await write(value);
      await store.areas.compact('b1', 'plan', 2, bytes(12));
      await store.areas.compact('b1', 'plan', 4, bytes(14));
      await write(5);
      const asOf = async (number: number) => {
        const earlier = await store.areas.asOf('b1', 'plan', minute(number));
        expect(earlier).toMatchObject({ number, at: number === 0 ? minute(0) : minute(Math.min(number, 5)) });
        return earlier!.updates.map((update) => [...update]);
      };
      expect(await asOf(0)).toEqual([]);
      expect(await asOf(1)).toEqual([[1]]);
      expect(await asOf(2)).toEqual([[12]]);
      expect(await asOf(3)).toEqual([[12], [3]]);
      expect(await asOf(4)).toEqual([[14]]);
      expect(await asOf(5)).toEqual([[14], [5]]);
      expect(await store.areas.asOf('b1', 'plan', minute(4), 4)).toEqual({
        updates: [bytes(12), bytes(3), bytes(4)],
        number: 4,
        base: 2,
        at: minute(4),
      });
      expect(await store.areas.asOf('b1', 'plan', minute(59))).toMatchObject({ number: 5, at: minute(5) });
      const since = await store.areas.writings('b1', 'plan', minute(3));
      expect(since).toEqual(
        [4, 5].map((number) => ({
          number,
          at: minute(number),
          membership: `m${number}`,
          update: bytes(number),
        })),
      );
      expect(await store.areas.writings('b1', 'plan', minute(0))).toHaveLength(5);
      expect((await store.areas.load('b1', 'plan')).updates).toEqual([bytes(14), bytes(5)]);
    });

    test('an area begins anew with another snapshot, and keeps what was there', async () => {
      for (const value of [1, 2]) await write(value);
      await store.areas.compact('b1', 'plan', 2, bytes(12));
      await write(3);
      const why = { reason: 'set apart', at: minute(9) };
      expect(await store.areas.replace('b1', 'plan', 2, bytes(98), why)).toBe(false);
      expect(await store.areas.replace('b1', 'plan', 3, bytes(99), why)).toBe(true);
      expect(await store.areas.load('b1', 'plan')).toMatchObject({ updates: [bytes(99)], head: 3, loose: 0 });
      expect(await store.areas.aside('b1')).toEqual([{ area: 'plan', bytes: bytes(12), ...why }]);
      expect((await store.areas.asOf('b1', 'plan', minute(2)))?.updates).toEqual([bytes(1), bytes(2)]);
      expect((await store.areas.asOf('b1', 'plan', minute(10)))?.updates).toEqual([bytes(99)]);
      await write(4);
      expect((await store.areas.load('b1', 'plan')).updates).toEqual([bytes(99), bytes(4)]);
    });

    test('who wrote in which hour is told, newest first', async () => {
      const writes = [
        ['plan', 'one', '10:05'],
        ['plan', 'one', '10:50'],
        ['plan', 'other', '10:20'],
        ['show', 'one', '11:00'],
        ['plan', '', '11:30'],
      ] as const;
      for (const [area, membership, time] of writes)
        await store.areas.append('b1', area, bytes(1), [], { membership, at: `2031-05-01T${time}:00.000Z` });
      const hours = await store.areas.hours('b1');
      expect(
        hours.map(({ area, membership, from, to }) => [
          area,
          membership,
          from.slice(11, 16),
          to.slice(11, 16),
        ]),
      ).toEqual([
        ['show', 'one', '11:00', '11:00'],
        ['plan', 'one', '10:05', '10:50'],
        ['plan', 'other', '10:20', '10:20'],
      ]);
    });

    test('the history is let go of after thirty days, and nothing that still stands beside a snapshot', async () => {
      for (const value of [1, 2, 3]) await write(value);
      await store.areas.compact('b1', 'plan', 1, bytes(11));
      await store.areas.compact('b1', 'plan', 2, bytes(12));
      const sweep = { linksBefore: '', sessionsBefore: '' };
      await store.sweep({ ...sweep, now: '2031-05-31T10:00:00.000Z' });
      expect((await store.areas.asOf('b1', 'plan', minute(1)))?.updates).toEqual([bytes(11)]);
      await store.sweep({ ...sweep, now: '2031-05-31T11:00:00.000Z' });
      expect(await store.areas.asOf('b1', 'plan', minute(1))).toBeNull();
      expect((await store.areas.asOf('b1', 'plan', minute(3)))?.updates).toEqual([bytes(12), bytes(3)]);
      expect(await store.areas.writings('b1', 'plan', minute(0))).toHaveLength(1);
      expect((await store.areas.load('b1', 'plan')).updates).toEqual([bytes(12), bytes(3)]);
    });

    test('a client id stays with the membership that used it first', async () => {
      const client = 2 ** 32 - 1;
      await store.areas.append('b1', 'plan', bytes(1), [{ client, membership: 'first' }], BY);
      await store.areas.append('b1', 'plan', bytes(2), [{ client, membership: 'first' }], BY);
      const taken = store.areas.append('b1', 'plan', bytes(3), [{ client, membership: 'second' }], BY);
      await expect(taken).rejects.toThrow(ClaimTaken);
      expect(await store.areas.load('b1', 'plan')).toEqual({
        updates: [bytes(1), bytes(2)],
        head: 2,
        loose: 2,
        claims: [{ client, membership: 'first' }],
      });
      await store.areas.append('b1', 'show', bytes(1), [{ client, membership: 'second' }], BY);
    });

    test('what came after a number is given: updates, or a snapshot that holds some of them', async () => {
      for (const value of [1, 2, 3]) await store.areas.append('b1', 'plan', bytes(value), [], BY);
      const since = async (number: number) => (await store.areas.load('b1', 'plan', number)).updates;
      expect([await since(0), await since(1), await since(3)]).toEqual([
        [bytes(1), bytes(2), bytes(3)],
        [bytes(2), bytes(3)],
        [],
      ]);
      await store.areas.compact('b1', 'plan', 2, bytes(12));
      expect([await since(0), await since(1), await since(2), await since(3)]).toEqual([
        [bytes(12), bytes(3)],
        [bytes(12), bytes(3)],
        [bytes(3)],
        [],
      ]);
    });

    test('who loads is given what was written before, though nobody has waited for it', async () => {
      void store.areas.append('b1', 'plan', bytes(1), [], BY);
      expect((await store.areas.load('b1', 'plan')).head).toBe(1);
    });

    test('what was answered is there after opening again', async () => {
      await store.areas.append('b1', 'plan', bytes(7), [{ client: 5, membership: 'm' }], BY);
      await store.links.add(link);
      await store.settings.set('key', '"value"');
      store = await under.reopen();
      expect(await store.areas.load('b1', 'plan')).toMatchObject({ updates: [bytes(7)], head: 1 });
      expect(await store.links.byHash('h1')).toEqual(link);
      expect(await store.settings.get('key')).toBe('"value"');
    });

    test('a board comes with its first documents, and is listed with the head of each area', async () => {
      await store.boards.add('b2', AT, [{ area: 'plan', update: bytes(1) }]);
      await store.areas.append('b2', 'plan', bytes(2), [], BY);
      const board = (await store.boards.list()).find(({ id }) => id === 'b2');
      expect(board).toEqual({ id: 'b2', madeAt: AT, heads: { plan: 2 }, listed: null });
    });

    test('a board keeps the words that it is listed by, those it comes with and those noted later', async () => {
      await store.boards.add('b2', AT, [], 'Ida and Tomas');
      const words = async () =>
        Object.fromEntries((await store.boards.list()).map(({ id, listed }) => [id, listed]));
      expect(await words()).toEqual({ b1: null, b2: 'Ida and Tomas' });
      await store.boards.note([
        { id: 'b1', listed: 'Ava' },
        { id: 'gone', listed: 'nobody' },
      ]);
      await store.boards.note([]);
      await store.boards.note([{ id: 'b2', summary: 'nothing is missing' }, { id: 'b1' }]);
      expect(await store.boards.summaries(['b1', 'b2', 'gone'])).toEqual(
        new Map([['b2', 'nothing is missing']]),
      );
      expect(await store.boards.summaries([])).toEqual(new Map());
      expect(await words()).toEqual({ b1: 'Ava', b2: 'Ida and Tomas' });
    });

    test('a session holds the grants of the links it was opened with, newest first, and knows which were revoked', async () => {
      await store.links.add(link);
      await store.links.add({
        ...link,
        id: 'l2',
        role: 'planner',
        hash: 'h2',
        madeAt: '2031-05-02T10:00:00.000Z',
      });
      await store.sessions.add('s1', AT);
      for (const id of ['l1', 'l2', 'l1']) await store.sessions.grant('s1', id);
      expect((await store.sessions.links('s1')).map(({ role }) => role)).toEqual(['planner', 'dj']);
      expect((await store.links.of('b1')).map(({ browsers }) => browsers)).toEqual([1, 1]);
      expect(await store.links.revoke('another', 'l1', AT)).toEqual([]);
      expect(await store.links.revoke('b1', 'l1', AT)).toEqual(['l1']);
      expect(await store.links.revoke('b1', 'l1', AT)).toEqual([]);
      expect((await store.links.of('b1')).map(({ id }) => id)).toEqual(['l2']);
      expect((await store.sessions.links('s1')).map(({ revokedAt }) => revokedAt)).toEqual([null, AT]);
    });

    test('with a link all that were made with it are revoked, and whoever was too late', async () => {
      const made = { l2: 'l1', l3: 'l2', l4: null, l5: 'l4' };
      await store.links.add(link);
      for (const [id, parent] of Object.entries(made))
        await store.links.add({ ...link, id, hash: `hash of ${id}`, parent });
      const calendar = { board: 'b1', role: 'planner', membership: 'l3', link: 'l3', hash: 'c' } as const;
      await store.calendars.put(calendar);
      expect((await store.links.revoke('b1', 'l1', AT)).sort()).toEqual(['l1', 'l2', 'l3']);
      expect(await store.calendars.byHash('c')).toBeNull();
      await store.links.add({ ...link, id: 'l6', hash: 'h6', parent: 'l3' });
      expect((await store.links.byHash('h6'))?.revokedAt).toBe(AT);
      expect((await store.links.of('b1')).map(({ id, parent }) => [id, parent])).toEqual([
        ['l4', null],
        ['l5', 'l4'],
      ]);
      expect(await store.links.everOf('b1')).toHaveLength(6);
    });

    test('a link is frozen and thawed with all that were made with it, if it is there and was not revoked', async () => {
      await store.links.add(link);
      for (const [id, parent] of Object.entries({ l2: 'l1', l3: 'l2', l4: null }))
        await store.links.add({ ...link, id, hash: `hash of ${id}`, parent });
      const frozen = async () =>
        (await store.links.of('b1')).filter(({ frozenAt }) => frozenAt !== null).map(({ id }) => id);
      expect(await store.links.freeze('another', 'l1', AT)).toEqual([]);
      expect(await store.links.freeze('b1', 'l2', AT)).toHaveLength(2);
      // Those that are so already have nothing to be told.
      expect(await store.links.freeze('b1', 'l1', AT)).toEqual(['l1']);
      expect(await frozen()).toEqual(['l1', 'l2', 'l3']);
      await store.links.add({ ...link, id: 'l5', hash: 'h5', parent: 'l3' });
      expect((await store.links.byHash('h5'))?.frozenAt).toBe(AT);
      expect((await store.links.freeze('b1', 'l1', null)).sort()).toEqual(['l1', 'l2', 'l3', 'l5']);
      expect(await frozen()).toEqual([]);
      await store.links.revoke('b1', 'l1', AT);
      expect(await store.links.freeze('b1', 'l1', AT)).toEqual([]);
    });

    test('a link has a root, which those made with it lose when they are released', async () => {
      for (const [id, parent] of Object.entries({ l1: null, l2: 'l1', l3: 'l2', l4: 'gone', l5: 'l4' }))
        await store.links.add({ ...link, id, hash: `hash of ${id}`, parent });
      const roots = () => Promise.all(['l1', 'l2', 'l3', 'l5', 'none'].map((id) => store.links.rootOf(id)));
      expect(await roots()).toEqual(['l1', 'l1', 'l1', 'l4', 'none']);
      await store.links.release('another', 'l1');
      await store.links.release('b1', 'l1');
      expect(await roots()).toEqual(['l1', 'l2', 'l2', 'l4', 'none']);
      expect(await store.links.revoke('b1', 'l1', AT)).toEqual(['l1']);
    });

    test('a new session takes over what the one before could open', async () => {
      await store.links.add(link);
      for (const session of ['s1', 's2']) await store.sessions.add(session, AT);
      await store.sessions.grant('s1', 'l1');
      await store.sessions.grant('s2', 'l1');
      await store.sessions.moveGrants('s1', 's2');
      expect(await store.sessions.links('s1')).toEqual([]);
      expect((await store.sessions.links('s2')).map(({ id }) => id)).toEqual(['l1']);
      expect((await store.links.of('b1')).map(({ browsers }) => browsers)).toEqual([1]);
    });

    test('a session is the instructor between signing in and out', async () => {
      await store.sessions.add('s1', AT);
      expect(await store.sessions.instructorUntil('s1')).toBeNull();
      await store.sessions.signIn('s1', AT);
      expect(await store.sessions.instructorUntil('s1')).toBe(AT);
      await store.sessions.signOut('s1');
      expect(await store.sessions.instructorUntil('s1')).toBeNull();
      expect(await store.sessions.has('s1')).toBe(true);
      expect(await store.sessions.has('s2')).toBe(false);
      for (const hash of ['s2', 's3', 's4']) await store.sessions.add(hash, AT);
      for (const hash of ['s1', 's2', 's3']) await store.sessions.signIn(hash, AT);
      expect((await store.sessions.signOutAll('s2')).sort()).toEqual(['s1', 's3']);
      expect(await store.sessions.instructorUntil('s1')).toBeNull();
      expect(await store.sessions.instructorUntil('s2')).toBe(AT);
      expect(await store.sessions.signOutAll(null)).toEqual(['s2']);
      expect(await store.sessions.signOutAll(null)).toEqual([]);
    });

    test('a new calendar address ends the one before, and revoking the link ends it too', async () => {
      await store.links.add(link);
      const calendar = { hash: 'c1', board: 'b1', role: 'planner', link: 'l1', membership: 'l1' } as const;
      await store.calendars.put(calendar);
      await store.calendars.put({ ...calendar, hash: 'c2' });
      expect(await store.calendars.byHash('c1')).toBeNull();
      expect(await store.calendars.byHash('c2')).toEqual({ ...calendar, hash: 'c2' });
      await store.links.revoke('b1', 'l1', AT);
      expect(await store.calendars.byHash('c2')).toBeNull();
    });

    test('a file is only for boards that uploaded it, and unused after the last of them', async () => {
      await store.boards.add('b2', AT, []);
      const file = { id: 'f'.repeat(64), bytes: 10, type: 'audio/wav' };
      await addFile('b1', file);
      expect(await store.files.of('b2', file.id)).toBeNull();
      await addFile('b2', file);
      expect(await store.files.of('b2', file.id)).toEqual(file);
      await store.boards.remove('b1');
      expect(await store.files.removeUnused()).toEqual([]);
      await store.boards.remove('b2');
      expect(await store.files.removeUnused()).toEqual([file.id]);
      expect(await store.files.removeUnused()).toEqual([]);
    });

    test('removing a board removes all of it', async () => {
      await store.areas.append('b1', 'plan', bytes(1), [{ client: 1, membership: 'm' }], BY);
      await store.links.add(link);
      await store.boards.remove('b1');
      expect(await store.boards.has('b1')).toBe(false);
      expect(await store.areas.load('b1', 'plan')).toEqual({ updates: [], head: 0, loose: 0, claims: [] });
      expect(await store.links.of('b1')).toEqual([]);
      await expect(store.areas.append('b1', 'plan', bytes(2), [], BY)).rejects.toThrow();
    });

    test('what cannot be used is set aside with its reason, and the rest of the area stays as it was', async () => {
      for (const value of [1, 2, 3]) await store.areas.append('b1', 'plan', bytes(value), [], BY);
      await store.areas.append('b1', 'show', bytes(2), [], BY);
      const second = { area: 'plan', bytes: bytes(2), reason: 'cannot be read', at: AT } as const;
      await store.areas.setAside('b1', second);
      expect(await store.areas.load('b1', 'plan')).toMatchObject({
        updates: [bytes(1), bytes(3)],
        head: 3,
        loose: 2,
      });
      expect((await store.areas.load('b1', 'show')).updates).toEqual([bytes(2)]);
      await store.areas.compact('b1', 'plan', 3, bytes(13));
      const snapshot = { ...second, bytes: bytes(13), at: '2031-05-02T10:00:00.000Z' };
      await store.areas.setAside('b1', snapshot);
      expect(await store.areas.append('b1', 'plan', bytes(4), [], BY)).toBe(4);
      expect((await store.areas.load('b1', 'plan')).updates).toEqual([bytes(4)]);
      expect(await store.areas.aside('b1')).toEqual([second, snapshot]);
      await store.boards.remove('b1');
      expect(await store.areas.aside('b1')).toEqual([]);
    });

    test('sweeping takes what nobody can use any more, and nothing else', async () => {
      const day = (number: number) => `2031-05-${String(number).padStart(2, '0')}T10:00:00.000Z`;
      const links = [
        { id: 'lasting', hash: 'h1', endsAt: null, revokedAt: null },
        { id: 'to come', hash: 'h2', endsAt: day(25), revokedAt: null },
        { id: 'just ended', hash: 'h3', endsAt: day(19), revokedAt: null },
        { id: 'long ended', hash: 'h4', endsAt: day(5), revokedAt: null },
        { id: 'long revoked', hash: 'h5', endsAt: null, revokedAt: day(5) },
        { id: 'just revoked', hash: 'h6', endsAt: null, revokedAt: day(19) },
      ];
      for (const one of links) await store.links.add({ ...link, ...one });
      for (const id of ['lasting', 'just ended', null])
        await store.calendars.put({
          hash: `c ${id}`,
          board: 'b1',
          role: 'dj',
          link: id,
          membership: `${id}`,
        });
      for (const [hash, madeAt] of [
        ['holds', day(1)],
        ['held', day(1)],
        ['instructor', day(1)],
        ['was instructor', day(1)],
        ['new', day(19)],
      ] as const)
        await store.sessions.add(hash, madeAt);
      await store.sessions.grant('holds', 'lasting');
      await store.sessions.grant('held', 'long ended');
      await store.sessions.signIn('instructor', day(21));
      await store.sessions.signIn('was instructor', day(19));
      const when = { now: day(20), linksBefore: day(10), sessionsBefore: day(18) };
      expect(await store.sweep(when)).toEqual({ calendars: 1, links: 2, sessions: 2 });
      const left = await Promise.all(links.map(({ hash }) => store.links.byHash(hash)));
      expect(left.map((one) => one?.id)).toEqual([
        ...['lasting', 'to come', 'just ended', undefined, undefined, 'just revoked'],
      ]);
      const names = ['holds', 'held', 'instructor', 'was instructor', 'new'];
      const has = await Promise.all(names.map((hash) => store.sessions.has(hash)));
      expect(has).toEqual([true, false, true, false, true]);
      expect(await store.calendars.byHash('c just ended')).toBeNull();
      expect(await store.calendars.byHash('c null')).not.toBeNull();
      expect(await store.sweep(when)).toEqual({ calendars: 0, links: 0, sessions: 0 });
    });

    test('links that nobody opened are removed, others stay', async () => {
      await store.links.add(link);
      await store.links.add({ ...link, id: 'l2', hash: 'h2' });
      await store.links.add({ ...link, id: 'l3', hash: 'h3' });
      await store.sessions.add('s1', AT);
      await store.sessions.grant('s1', 'l1');
      await store.links.removeUnopened(['l1', 'l2', 'never there']);
      await store.links.removeUnopened([]);
      expect((await store.links.of('b1')).map(({ id }) => id)).toEqual(['l1', 'l3']);
    });

    test("a board's files are listed", async () => {
      await store.boards.add('b2', AT, []);
      const file = { id: 'f'.repeat(64), bytes: 10, type: 'audio/wav' };
      await addFile('b1', file);
      await addFile('b1', { ...file, id: 'e'.repeat(64) });
      expect((await store.files.ofBoard('b1')).map(({ id }) => id[0])).toEqual(['e', 'f']);
      expect(await store.files.ofBoard('b2')).toEqual([]);
    });

    test('a setting that may be set once stays', async () => {
      expect(await store.settings.setOnce('k', '1')).toBe(true);
      expect(await store.settings.setOnce('k', '2')).toBe(false);
      expect(await store.settings.get('k')).toBe('1');
      expect(await store.settings.replace('k', '2', '3')).toBe(false);
      expect(await store.settings.replace('other', '1', '3')).toBe(false);
      expect(await store.settings.get('k')).toBe('1');
      expect(await store.settings.replace('k', '1', '3')).toBe(true);
      expect(await store.settings.get('k')).toBe('3');
    });
  });
}
