import { afterAll, beforeAll, expect, test } from 'vitest';
import type * as Y from 'yjs';
import { readArea } from '../../lib/board/area.ts';
import type { Plan } from '../../lib/core/areas/plan.ts';
import { planShape } from '../../lib/core/areas/plan.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import { recordTime } from '../../lib/core/units.ts';
import { closingOf } from '../../lib/protocol/close.ts';
import { boardOf } from '../kit/board.ts';
import { dice } from '../kit/synth.ts';
import { guest } from './guest.ts';
import { type House, invite, openHouse } from './house.ts';

const BOARDS = 20;
const EACH = 10;
const song = boardOf({ form: [['verse', 8]] });

let house: House;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.end());

const makeBoard = async (): Promise<string> => {
  const made = await house.running.services.boards.makeFrom(song);
  if (!made.ok) throw new Error(made.problem.sentence);
  return made.value;
};
const planOf = async (board: string): Promise<Plan> => {
  const read = await house.running.services.boards.read(board, 'instructor');
  if (!read.ok) throw new Error(read.problem.sentence);
  return read.value.plan;
};
const edited = (start: number) => ({
  register: 'edit' as const,
  value: { ...song.plan.edit!, start: recordTime(start) },
});
const settled = (turn: number) => ({
  register: 'settled' as const,
  value: { by: 'Marta', at: new Date(Date.UTC(2031, 4, 1) + turn).toISOString() as Instant, word: `${turn}` },
});
const lifted = { register: 'settled', value: null } as const;
const cue = (id: string) =>
  ({ collection: 'cues', id, fields: { at: recordTime(3), word: 'bell' } }) as const;

/** What was changed of a settled song without lifting that, as somebody sees it who only reads; held against nothing of ours. */
function watch(doc: Y.Doc): string[] {
  const wrong: string[] = [];
  const look = () => {
    const { settled, edit, phraseBars } = readArea(doc, planShape);
    return { isSettled: settled !== null, song: JSON.stringify([edit, phraseBars]) };
  };
  let before = look();
  doc.on('update', () => {
    const now = look();
    if (before.isSettled && now.isSettled && before.song !== now.song)
      wrong.push(`${before.song} became ${now.song}`);
    before = now;
  });
  return wrong;
}

/** Somebody who begins anew when refused, as our page does, and knows what was acknowledged. */
class Person {
  refused = 0;
  readonly promised: string[] = [];
  one: ReturnType<typeof guest<'plan'>>;
  private cues = 0;

  constructor(
    private readonly as: { board: string; role: 'instructor' | 'couple'; cookie: string },
    private readonly name: string,
  ) {
    this.one = guest(house, as, 'plan');
  }

  /** Resolves when all is said that was written, one way or the other. */
  async heard(): Promise<void> {
    this.one.provider.connect();
    // What was not acknowledged when it was refused is not promised.
    const id = `${this.name}${++this.cues}`;
    this.one.write(cue(id));
    const code = await Promise.race([this.one.saved(), this.one.closed]);
    if (code === undefined) {
      this.promised.push(id);
      return;
    }
    expect(closingOf(code)).toBe('invalid');
    this.refused += 1;
    this.one.leave();
    this.one = guest(house, this.as, 'plan');
    await this.one.synced();
  }
}

test('settled and changed in the same instant, in 200 orders: nothing settled is changed, and what was acknowledged is kept', async () => {
  const ends = new Map<string, { plan: Plan; promised: string[] }>();
  const counts = { refused: 0, settled: 0, edited: 0 };
  for (let number = 0; number < BOARDS; number++) {
    const random = dice(number + 1);
    const board = await makeBoard();
    const cookies = {
      instructor: (await invite(house, board, 'instructor')).cookie,
      couple: (await invite(house, board, 'couple')).cookie,
    };
    const watching = guest(house, { board, role: 'couple', cookie: cookies.couple }, 'plan');
    await watching.synced();
    const wrong = watch(watching.doc);
    const people = (['instructor', 'couple', 'couple'] as const).map(
      (role, index) => new Person({ board, role, cookie: cookies[role] }, `p${index}-`),
    );
    await Promise.all(people.map(({ one }) => one.synced()));
    for (let turn = 1; turn <= EACH; turn++) {
      // Each does one to three things without waiting for the others, some of them while offline.
      for (const index of [0, 1, 2].sort(() => random() - 0.5)) {
        const { one } = people[index]!;
        if (random() < 0.2) one.provider.disconnect();
        for (let left = 1 + Math.floor(random() * 3); left > 0; left--) {
          const what = random();
          if (index === 0 && what < 0.5) one.write(settled(turn));
          else if (what < 0.7) one.write(edited(Math.floor(random() * 8)));
          else if (what < 0.8) one.write({ register: 'phraseBars', value: 1 + Math.floor(random() * 8) });
          else if (what < 0.9) one.write(lifted, edited(Math.floor(random() * 8)));
          else one.write(lifted);
        }
        if (random() < 0.3) await new Promise((resolve) => setImmediate(resolve));
      }
      await Promise.all(people.map((person) => person.heard()));
    }
    const plan = await planOf(board);
    await Promise.all(
      [watching, ...people.map(({ one }) => one)].map(({ sees }) =>
        sees((data) => JSON.stringify(data) === JSON.stringify(plan)),
      ),
    );
    expect(wrong, `board ${number}`).toEqual([]);
    const promised = people.flatMap((person) => person.promised);
    for (const id of promised)
      expect(
        plan.cues.some((one) => one.id === id),
        id,
      ).toBe(true);
    ends.set(board, { plan, promised });
    counts.refused += people.reduce((sum, { refused }) => sum + refused, 0);
    counts.settled += plan.settled ? 1 : 0;
    counts.edited += plan.edit!.start > 0 ? 1 : 0;
    for (const one of [watching, ...people.map((person) => person.one)]) one.leave();
  }
  // Otherwise it would have shown nothing.
  expect(counts.refused).toBeGreaterThan(20);
  expect(Math.min(counts.settled, counts.edited)).toBeGreaterThan(3);
  await house.restart();
  for (const [board, { plan }] of ends) expect(await planOf(board)).toEqual(plan);
}, 120_000);

test('of settling and changing at once the one that comes second gives way to the first, in both orders', async () => {
  for (const first of ['settles', 'edits'] as const) {
    const board = await makeBoard();
    const enter = async (role: 'instructor' | 'couple') => {
      const { cookie } = await invite(house, board, role);
      const one = guest(house, { board, role, cookie }, 'plan');
      await one.synced();
      return one;
    };
    const [instructor, couple] = [await enter('instructor'), await enter('couple')];
    // Neither has heard of the other's when it writes: held back on the line, and let go in this order.
    for (const one of [instructor, couple]) one.provider.disconnect();
    instructor.write(settled(1));
    couple.write(edited(5));
    const [one, other] = first === 'settles' ? [instructor, couple] : [couple, instructor];
    one.provider.connect();
    await one.saved();
    other.provider.connect();
    if (first === 'settles') expect(closingOf(await couple.closed)).toBe('invalid');
    else await instructor.saved();
    const plan = await planOf(board);
    expect([plan.settled !== null, plan.edit!.start]).toEqual([true, first === 'settles' ? 0 : 5]);
    for (const who of [instructor, couple]) who.leave();
  }
});
