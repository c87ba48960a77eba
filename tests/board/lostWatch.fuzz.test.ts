import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { areas } from '../../lib/core/areas/board.ts';
import type { PlanChange } from '../../lib/core/areas/change.ts';
import { checkChanges } from '../../lib/core/areas/checkChanges.ts';
import { type Lost, takeInstead } from '../../lib/core/areas/lost.ts';
import { recordTime } from '../../lib/core/units.ts';
import { Page } from './watched.ts';

/** The places that people write at in these tests. */
const places = ['title', 'phraseBars', 'cues/a/word', 'cues/b/word'] as const;
type Place = (typeof places)[number];
const placeOf = (lost: Lost): string =>
  'register' in lost ? lost.register : `${lost.collection}/${lost.id}/${lost.field}`;

/** Few values, so that two write the same now and then. */
const VALUES = 4;
const valueAt = (place: Place, n: number): string | number => (place === 'phraseBars' ? n + 1 : `word ${n}`);
function changeOf(place: Place, n: number): PlanChange {
  const value = valueAt(place, n);
  const [, id, field] = place.split('/');
  return (
    id ? { collection: 'cues', id, fields: { [field!]: value } } : { register: place, value }
  ) as PlanChange;
}

/** What a person wrote, and what of the place they had seen by then: the truth, kept beside the documents. */
interface Write {
  place: Place;
  value: string | number;
  page: number;
  seen: ReadonlySet<Write>;
}
const isConcurrent = (a: Write, b: Write) =>
  a !== b && a.place === b.place && !a.seen.has(b) && !b.seen.has(a);

const who = fc.integer({ min: 0, max: 2 });
const writing = fc.record({
  kind: fc.constant('write' as const),
  who,
  place: fc.constantFrom(...places),
  n: fc.nat({ max: VALUES - 1 }),
});
const hearing = fc.record({ kind: fc.constant('hear' as const), who, from: who });
/** Two or three pages whose documents began as one, whichever wins; and the truth of each. */
class Board {
  readonly pages: Page[];
  readonly known: Set<Write>[];
  readonly told: Lost[][];
  readonly writes: Write[] = [];

  constructor(clients: readonly number[]) {
    this.pages = clients.map((client) => new Page(client));
    const entry = (id: string): PlanChange => ({
      collection: 'cues',
      id,
      fields: { at: recordTime(1), word: 'bell' },
    });
    const first = new Page(1000).change({ register: 'title', value: 'First' }, entry('a'), entry('b'));
    for (const page of this.pages) page.hear(first);
    this.known = this.pages.map(() => new Set());
    this.told = this.pages.map(() => []);
  }

  write(page: number, place: Place, n: number): void {
    this.pages[page]!.change(changeOf(place, n));
    const known = this.known[page]!;
    const write = { place, value: valueAt(place, n), page, seen: new Set(known) };
    this.writes.push(write);
    known.add(write);
  }

  /** @returns what was told */
  hear(page: number, from: number): Lost[] {
    const told = this.pages[page]!.hear(this.pages[from]!).told;
    this.told[page]!.push(...told);
    for (const write of this.known[from]!) this.known[page]!.add(write);
    return told;
  }

  /** Until all hold all. */
  meet(): Lost[] {
    const all = this.pages.map((_, i) => i);
    return [1, 2].flatMap(() => all.flatMap((to) => all.flatMap((from) => this.hear(to, from))));
  }

  valueOf(page: number, place: string): unknown {
    const { plan } = this.pages[page]!;
    const [name, id, field] = place.split('/');
    if (!id) return plan[name as 'title'];
    const entry = plan.cues.find((cue) => cue.id === id);
    return entry?.[field as 'word'] ?? null;
  }
}

const clients = fc.uniqueArray(fc.integer({ min: 1, max: 999 }), { minLength: 2, maxLength: 3 });
const RUNS = { numRuns: 400 };

describe('two or three who write, and hear of each other now and then', () => {
  const steps = fc.array(fc.oneof({ weight: 3, arbitrary: writing }, { weight: 2, arbitrary: hearing }), {
    minLength: 8,
    maxLength: 30,
  });

  test('are told of nothing but what was written at the same time and does not stand', () => {
    fc.assert(
      fc.property(clients, steps, (ids, all) => {
        const board = new Board(ids);
        for (const step of all) {
          const page = step.who % ids.length;
          if (step.kind === 'write') board.write(page, step.place, step.n);
          else
            for (const lost of board.hear(page, step.from % ids.length)) {
              const place = placeOf(lost);
              expect(lost.stands).toEqual(board.valueOf(page, place));
              expect(lost.lost).not.toEqual(lost.stands);
              const known = [...board.known[page]!].filter((write) => write.place === place);
              const lostOnes = known.filter(
                (write) => write.value === lost.lost && (write.page === page) === lost.mine,
              );
              expect(lostOnes.some((one) => known.some((other) => isConcurrent(one, other)))).toBe(true);
            }
        }
      }),
      RUNS,
    );
  });

  test('are told of each of their own that did not stand against one that nobody on their side had seen', () => {
    let losses = 0;
    fc.assert(
      fc.property(clients, steps, (ids, all) => {
        const board = new Board(ids);
        for (const step of all) {
          const page = step.who % ids.length;
          if (step.kind === 'write') board.write(page, step.place, step.n);
          else board.hear(page, step.from % ids.length);
        }
        board.meet();
        for (const one of board.writes) {
          const at = board.writes.filter((other) => other.place === one.place);
          // Who saw it and wrote on decided for it; who wrote the same as another lost nothing.
          if (at.some((other) => other.seen.has(one))) continue;
          const others = at.filter((other) => isConcurrent(one, other));
          if (others.some(({ value }) => value === one.value)) continue;
          if (board.valueOf(0, one.place) === one.value) continue;
          losses += 1;
          const told = board.told[one.page]!.filter((lost) => lost.mine && placeOf(lost) === one.place);
          expect(told.map(({ lost }) => lost)).toContain(one.value);
        }
      }),
      RUNS,
    );
    expect(losses).toBeGreaterThan(50);
  });

  test('who write in turns, each having heard of all before, are told of nothing', () => {
    fc.assert(
      fc.property(clients, fc.array(writing, { maxLength: 20 }), (ids, all) => {
        const board = new Board(ids);
        for (const { who, place, n } of all) {
          board.write(who % ids.length, place, n);
          expect(board.meet()).toEqual([]);
        }
      }),
      { numRuns: 100 },
    );
  });

  test('what is taken instead stands everywhere, is allowed, and tells nobody of anything', () => {
    let taken = 0;
    fc.assert(
      fc.property(clients, steps, fc.nat(), (ids, all, pick) => {
        const board = new Board(ids);
        for (const step of all) {
          const page = step.who % ids.length;
          if (step.kind === 'write') board.write(page, step.place, step.n);
          else board.hear(page, step.from % ids.length);
        }
        board.meet();
        const told = board.told.flatMap((list, page) => list.map((lost) => ({ lost, page })));
        if (told.length === 0) return;
        taken += 1;
        const { lost, page } = told[pick % told.length]!;
        const change = takeInstead(lost);
        expect(checkChanges(areas.plan, board.pages[page]!.plan, [change]).ok).toBe(true);
        board.pages[page]!.change(change);
        expect(board.meet()).toEqual([]);
        for (const i of ids.keys()) {
          expect(board.valueOf(i, placeOf(lost))).toEqual(lost.lost);
          expect(board.pages[i]!.plan).toEqual(board.pages[0]!.plan);
        }
      }),
      RUNS,
    );
    expect(taken).toBeGreaterThan(50);
  });
});

describe('two or three of whom some take entries away', () => {
  const entry = fc.constantFrom('a' as const, 'b' as const);
  const steps = fc.array(
    fc.oneof(
      { weight: 3, arbitrary: fc.record({ kind: fc.constant('write' as const), who, id: entry }) },
      { weight: 1, arbitrary: fc.record({ kind: fc.constant('take away' as const), who, id: entry }) },
      { weight: 3, arbitrary: hearing },
    ),
    { minLength: 8, maxLength: 25 },
  );

  test('are told of a word that falls with its entry exactly where the one they hear it from had not seen the word', () => {
    let fallen = 0;
    fc.assert(
      fc.property(clients, steps, (ids, all) => {
        const board = new Board(ids);
        for (const [n, step] of all.entries()) {
          const page = step.who % ids.length;
          if (step.kind !== 'hear') {
            const place = `cues/${step.id}/word` as const;
            if (board.valueOf(page, place) === null) continue;
            if (step.kind === 'write') board.write(page, place, n);
            else board.pages[page]!.change({ collection: 'cues', id: step.id, fields: null });
            continue;
          }
          const from = step.from % ids.length;
          const before = (['cues/a/word', 'cues/b/word'] as const).map((place) => {
            const value = board.valueOf(page, place);
            return { place, write: board.writes.find((one) => one.value === value) };
          });
          const unseen = before.filter(({ write }) => write && !board.known[from]!.has(write));
          const told = board.hear(page, from).filter(({ entry }) => entry !== null);
          const fell = unseen.filter(({ place }) => board.valueOf(page, place) === null);
          fallen += fell.length;
          const mine = (write: Write) => write.page === page;
          expect(told.map((lost) => [placeOf(lost), lost.lost, lost.mine, lost.entry]).sort()).toEqual(
            fell.map(({ place, write }) => [
              place,
              write!.value,
              mine(write!),
              { at: 1, word: write!.value },
            ]),
          );
        }
      }),
      RUNS,
    );
    expect(fallen).toBeGreaterThan(20);
  });
});
