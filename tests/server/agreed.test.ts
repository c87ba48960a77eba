import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges } from '../../lib/board/area.ts';
import { djPrinted } from '../../lib/core/agreed/djPrinted.ts';
import { entryFacts } from '../../lib/core/agreed/entry.ts';
import { currentDigest } from '../../lib/core/agreed/played.ts';
import type { AreaName, Board } from '../../lib/core/areas/board.ts';
import type { PlanChange } from '../../lib/core/areas/change.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import { planShape } from '../../lib/core/areas/plan.ts';
import type { Instant } from '../../lib/core/calendar.ts';
import { recordTime } from '../../lib/core/units.ts';
import { closingOf } from '../../lib/protocol/close.ts';
import { updateFrame } from '../../server/sync/frames.ts';
import { boardOf, cutOut, sectionsOf } from '../kit/board.ts';
import { guest } from './guest.ts';
import { type House, invite, openHouse } from './house.ts';

const AT = '2031-05-01T10:00:00.000Z' as const;
const LATER = '2031-05-01T11:00:00.000Z' as const;
const SETTLED = { by: 'Marta', at: AT, word: 'Agreed in lesson two.' };
const HELD = 'Marta has settled song and edit: open them again on the song page first.';
const CHANGED = 'The edit has changed meanwhile: look at it, and ask again.';
const DIFFERS = 'The entry has changed meanwhile: look at what differs, and mark it final again.';
const EDIT = cutOut(40, 60);

let house: House;
let board: string;
let guests: { leave(): void }[];
const cookies = new Map<Role, string>();
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.end());
beforeEach(async () => {
  guests = [];
  await begin();
});
afterEach(() => {
  for (const one of guests) one.leave();
});

async function begin(more: Partial<ReturnType<typeof boardOf>['plan']> = {}): Promise<void> {
  const made = await house.running.services.boards.makeFrom(boardOf({}, more));
  if (!made.ok) throw new Error(made.problem.sentence);
  board = made.value;
  for (const role of ['instructor', 'couple', 'dj', 'planner'] as const)
    cookies.set(role, (await invite(house, board, role)).cookie);
}

async function enter<A extends AreaName>(role: Role, area: A) {
  const one = guest(house, { board, role, cookie: cookies.get(role)! }, area);
  guests.push(one);
  const reasons: string[] = [];
  one.provider.on('connection-close', (event) => reasons.push(event?.reason ?? ''));
  await one.synced();
  return { ...one, reasons };
}
type Guest<A extends AreaName> = Awaited<ReturnType<typeof enter<A>>>;

const kept = async () => {
  const read = await house.running.services.boards.read(board, 'instructor');
  if (!read.ok) throw new Error(read.problem.sentence);
  return read.value;
};
const offline = async <A extends AreaName>({ provider }: Guest<A>): Promise<void> => {
  const left = new Promise((resolve) => provider.once('connection-close', resolve));
  provider.disconnect();
  await left;
};

/** By a stock client on the line, by one that was away, and by frames that no page sends. */
const ways: [string, (one: Guest<'plan'>, changes: PlanChange[]) => unknown][] = [
  ['a stock client', (one, changes) => one.write(...changes)],
  [
    'a crafted frame',
    (one, changes) => {
      const doc = new Y.Doc();
      Y.applyUpdate(doc, Y.encodeStateAsUpdate(one.doc));
      const before = Y.encodeStateVector(doc);
      applyChanges(doc, planShape, changes);
      one.provider.ws!.send(new Uint8Array(updateFrame(Y.encodeStateAsUpdate(doc, before))));
      Y.applyUpdate(one.doc, Y.encodeStateAsUpdate(doc), one.provider);
    },
  ],
];

const ofSettled: [string, PlanChange[]][] = [
  ['the edit', [{ register: 'edit', value: EDIT }]],
  ['the recording', [{ register: 'recording', value: null }]],
  ['a section', [{ collection: 'sections', id: 's1', fields: { name: 'Verse' } }]],
  ['a section taken away', [{ collection: 'sections', id: 's1', fields: null }]],
  [
    'the phrases, among what is free',
    [
      { register: 'venue', value: 'Barn' },
      { register: 'phraseBars', value: 8 },
    ],
  ],
  [
    'the edit, settled anew in the same frame',
    [
      { register: 'settled', value: null },
      { register: 'edit', value: EDIT },
      { register: 'settled', value: { ...SETTLED, at: LATER } },
    ],
  ],
];

describe('settled song and edit', () => {
  describe.each(ways)('by %s', (_way, send) => {
    test.each(ofSettled)('%s: cannot be changed while it is settled', async (_what, changes) => {
      await begin({ settled: SETTLED });
      const role = changes.length === 3 ? 'instructor' : 'couple';
      const beside = await enter('dj', 'plan');
      const one = await enter(role, 'plan');
      const before = await kept();
      const heard: Uint8Array[] = [];
      beside.doc.on('update', (update: Uint8Array) => heard.push(update));
      // The answer to the server's greeting.
      await one.acknowledged(1);
      send(one, changes);
      expect(closingOf(await one.closed)).toBe('invalid');
      expect(one.reasons).toEqual([HELD]);
      expect([one.provider.shouldConnect, one.lastAcknowledged()]).toEqual([false, 1]);
      // Its own document keeps the words, for the person to copy.
      expect(one.read()).not.toEqual(before.plan);
      expect(await kept()).toEqual(before);
      // Whatever comes next is all that the others hear.
      const next = await enter('couple', 'plan');
      next.write({ register: 'venue', value: 'After' });
      await beside.sees(({ venue }) => venue === 'After');
      expect(heard).toHaveLength(1);
      expect(beside.read()).toEqual({ ...before.plan, venue: 'After' });
    });
  });

  test('a change from before the settling comes too late when its page was offline, and the page keeps it', async () => {
    const couple = await enter('couple', 'plan');
    await offline(couple);
    couple.write(
      { register: 'edit', value: EDIT },
      { collection: 'cues', id: 'c', fields: { at: recordTime(9), word: 'bell' } },
    );
    const instructor = await enter('instructor', 'plan');
    instructor.write({ register: 'settled', value: SETTLED });
    await instructor.saved();
    couple.provider.connect();
    expect(closingOf(await couple.closed)).toBe('invalid');
    expect(couple.reasons.at(-1)).toBe(HELD);
    expect(couple.read()).toMatchObject({ edit: EDIT, cues: [{ word: 'bell' }] });
    expect((await kept()).plan).toMatchObject({ settled: SETTLED, edit: boardOf().plan.edit, cues: [] });
    // As our page does: the document is let go and a new one begun, which is not refused again.
    const again = await enter('couple', 'plan');
    again.write({ register: 'settled', value: null }, { register: 'edit', value: EDIT });
    await again.saved();
    expect((await kept()).plan).toMatchObject({ settled: null, edit: EDIT });
  });

  test('lifted by one who was offline and settled anew meanwhile, it stays as it was settled last', async () => {
    await begin({ settled: SETTLED });
    const couple = await enter('couple', 'plan');
    await offline(couple);
    couple.write({ register: 'settled', value: null }, { register: 'edit', value: EDIT });
    const instructor = await enter('instructor', 'plan');
    const anew = { ...SETTLED, at: LATER };
    instructor.write({ register: 'settled', value: anew });
    await instructor.saved();
    couple.provider.connect();
    expect(closingOf(await couple.closed)).toBe('invalid');
    expect((await kept()).plan).toMatchObject({ settled: anew, edit: boardOf().plan.edit });
  });

  test('lets through what lifts it, what it does not hold, and what says nothing new', async () => {
    await begin({ settled: SETTLED });
    const couple = await enter('couple', 'plan');
    couple.write({ collection: 'cues', id: 'c', fields: { at: recordTime(9), word: 'bell' } });
    couple.write({ collection: 'placed', id: 'p', fields: { move: 'box', at: recordTime(9), times: 1 } });
    couple.write({ register: 'edit', value: structuredClone(boardOf().plan.edit) });
    couple.write({ collection: 'sections', id: 's1', fields: { start: sectionsOf()[1]!.start } });
    couple.write({ register: 'settled', value: null }, { register: 'edit', value: EDIT });
    await couple.saved();
    expect((await kept()).plan).toMatchObject({ settled: null, edit: EDIT, cues: [{ word: 'bell' }] });
  });

  test('only the instructor settles, by the role of the link', async () => {
    const couple = await enter('couple', 'plan');
    couple.write({ register: 'settled', value: SETTLED });
    expect(closingOf(await couple.closed)).toBe('outdated');
    expect(couple.reasons).toEqual(['Only the instructor settles song and edit.']);
    const instructor = await enter('instructor', 'plan');
    instructor.write({ register: 'settled', value: SETTLED });
    await instructor.saved();
    expect((await kept()).plan.settled).toEqual(SETTLED);
  });

  test('a name in the sentence comes as it is written, cut off between two letters where it is long', async () => {
    await begin({ settled: { ...SETTLED, by: 'Zoë Ångström' } });
    const one = await enter('couple', 'plan');
    one.write({ register: 'edit', value: EDIT });
    await one.closed;
    expect(one.reasons[0]).toBe(HELD.replace('Marta', 'Zoë Ångström'));
    await begin({ settled: { ...SETTLED, by: 'ø'.repeat(100) } });
    const other = await enter('couple', 'plan');
    other.write({ register: 'edit', value: EDIT });
    await other.closed;
    expect(other.reasons[0]).toBe('ø'.repeat(61));
  });
});

describe('the DJ is asked', () => {
  const asking = (edit = boardOf().plan.edit!) => ({
    register: 'asked' as const,
    value: { digest: currentDigest(boardOf({}, { edit }).plan)!, at: AT, by: 'Noor', answerBy: null },
  });

  test('about the edit as it is, and about no other', async () => {
    const couple = await enter('couple', 'plan');
    couple.write(asking());
    await couple.saved();
    couple.write(asking(EDIT));
    expect(closingOf(await couple.closed)).toBe('outdated');
    expect(couple.reasons).toEqual([CHANGED]);
    expect((await kept()).plan.asked).toEqual(asking().value);
  });

  test('not for an edit that was changed while the asking page was offline', async () => {
    const couple = await enter('couple', 'plan');
    await offline(couple);
    couple.write(asking());
    const instructor = await enter('instructor', 'plan');
    instructor.write({ register: 'edit', value: EDIT });
    await instructor.saved();
    couple.provider.connect();
    expect(closingOf(await couple.closed)).toBe('outdated');
    expect(couple.read().asked).toEqual(asking().value);
    expect((await kept()).plan.asked).toBeNull();
  });

  test.each([
    ['then asked', [{ register: 'edit' as const, value: EDIT }, asking(EDIT)]],
    ['after asking', [asking(), { register: 'edit' as const, value: EDIT }]],
  ])('for what the same page had edited offline, %s, which comes as one', async (_order, changes) => {
    const couple = await enter('couple', 'plan');
    await offline(couple);
    for (const change of changes) couple.write(change);
    couple.provider.connect();
    await couple.saved();
    expect((await kept()).plan).toMatchObject({ edit: EDIT });
  });
});

describe('the entry is marked final', () => {
  const finalOf = (facts: ReturnType<typeof entryFacts>, at: Instant = AT) => ({
    register: 'final' as const,
    value: { digest: facts.digest, facts: facts.facts, at, by: 'Pia' },
  });

  test('as it is now, and as no other', async () => {
    const planner = await enter('planner', 'show');
    planner.write(finalOf(entryFacts(await kept())));
    await planner.saved();
    expect(entryFacts(await kept()).final?.outdated).toBe(false);
    const instructor = await enter('instructor', 'plan');
    instructor.write({ register: 'venue', value: 'Barn' });
    await instructor.saved();
    planner.write(finalOf(entryFacts(boardOf()), LATER));
    expect(closingOf(await planner.closed)).toBe('outdated');
    expect(planner.reasons).toEqual([DIFFERS]);
    expect((await kept()).show?.final?.at).toBe(AT);
    const again = await enter('planner', 'show');
    again.write(finalOf(entryFacts(await kept()), LATER));
    await again.saved();
    expect(entryFacts(await kept()).final?.outdated).toBe(false);
  });

  test('not by a planner who was offline for an hour while the plan changed, and whose page keeps the word', async () => {
    const planner = await enter('planner', 'show');
    await offline(planner);
    const final = finalOf(entryFacts(await kept()));
    planner.write(final);
    const couple = await enter('couple', 'plan');
    couple.write({ register: 'edit', value: EDIT });
    await couple.saved();
    couple.leave();
    // Nobody has the board open, and the server is another by now.
    house.later(3_600_000);
    await house.restart();
    planner.provider.connect();
    expect(closingOf(await planner.closed)).toBe('outdated');
    expect(planner.reasons.at(-1)).toBe(DIFFERS);
    expect(planner.read().final).toEqual(final.value);
    expect((await kept()).show?.final).toBeNull();
  });

  test('with what the planner had written offline just before, which comes as one', async () => {
    const planner = await enter('planner', 'show');
    await offline(planner);
    planner.write({ register: 'announcedBy', value: 'the MC' });
    planner.write(finalOf(entryFacts({ ...(await kept()), show: planner.read() })));
    planner.provider.connect();
    await planner.saved();
    expect(entryFacts(await kept()).final?.outdated).toBe(false);
  });

  test('may be taken back, whatever has changed', async () => {
    const planner = await enter('planner', 'show');
    planner.write(finalOf(entryFacts(await kept())));
    const couple = await enter('couple', 'plan');
    couple.write({ register: 'venue', value: 'Barn' });
    await Promise.all([planner.saved(), couple.saved()]);
    planner.write({ register: 'final', value: null });
    await planner.saved();
    expect((await kept()).show?.final).toBeNull();
  });
});

describe('the DJ says yes', () => {
  const yesTo = (of: Board, plays: 'finished file' | 'own copy', at: Instant = AT) => {
    const { digest, facts } = djPrinted(of, plays);
    return {
      collection: 'answers' as const,
      id: `yes-${at}`,
      fields: {
        ...({ kind: 'yes', at, by: 'Kim', plays, words: '', proposal: null } as const),
        digest: currentDigest(of.plan)!,
        edit: of.plan.edit!,
        covers: { digest, facts },
      },
    };
  };

  test('to what is to be played now, and to nothing older', async () => {
    const dj = await enter('dj', 'answer');
    const read = await kept();
    dj.write(yesTo(read, 'finished file'));
    await dj.saved();
    const couple = await enter('couple', 'plan');
    couple.write({ register: 'venue', value: 'Barn' });
    await couple.saved();
    dj.write(yesTo(read, 'finished file', LATER));
    expect(closingOf(await dj.closed)).toBe('outdated');
    expect(dj.reasons[0]).toMatch(/^What is to be played has changed meanwhile/);
    expect((await kept()).answer?.answers.map(({ at }) => at)).toEqual([AT]);
    const again = await enter('dj', 'answer');
    again.write(yesTo(await kept(), 'finished file', LATER));
    await again.saved();
    expect((await kept()).answer?.answers).toHaveLength(2);
  });

  test('offline to what changed meanwhile: it is refused, and the page keeps the words', async () => {
    const dj = await enter('dj', 'answer');
    await offline(dj);
    dj.write(yesTo(await kept(), 'own copy'));
    const couple = await enter('couple', 'plan');
    couple.write({ register: 'edit', value: EDIT });
    await couple.saved();
    dj.provider.connect();
    expect(closingOf(await dj.closed)).toBe('outdated');
    expect([dj.read().answers.length, (await kept()).answer?.answers.length]).toEqual([1, 0]);
  });

  test('offline after checking a copy, which comes as one', async () => {
    const dj = await enter('dj', 'answer');
    await offline(dj);
    dj.write({
      register: 'copy',
      value: { verdict: 'shifted', offsetMs: 2000, ratio: 1, confidence: 0.9, at: AT },
    });
    const read = { ...(await kept()), answer: dj.read() };
    dj.write(yesTo(read, 'own copy'));
    dj.provider.connect();
    await dj.saved();
    expect((await kept()).answer).toMatchObject({
      copy: { offsetMs: 2000 },
      answers: [{ plays: 'own copy' }],
    });
  });
});
