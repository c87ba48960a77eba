import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import { applyChanges, readArea, textOf } from '../../../lib/board/area.ts';
import { Replay, type Side } from '../../../lib/board/history/replay.ts';
import { type TakenBack, takeBack, textKey, wantedTexts } from '../../../lib/board/history/takeBack.ts';
import { newArea } from '../../../lib/board/layout.ts';
import { richTextOf } from '../../../lib/board/richText.ts';
import type { AreaData, AreaShape, RichText } from '../../../lib/core/areas/area.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import { type Change, changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import { emptyArea } from '../../../lib/core/areas/empty.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { recordTime } from '../../../lib/core/units.ts';

interface Writing {
  side: Side;
  update: Uint8Array;
}

/** What takes back all that they wrote after `earlier`, as the server finds it. */
function takenBack(
  shape: AreaShape,
  earlier: readonly Uint8Array[],
  writings: readonly Writing[],
): TakenBack & { doc: Y.Doc } {
  const played = (count: number) => {
    const replay = new Replay(shape, earlier);
    writings.slice(0, count).forEach(({ side, update }, index) => void replay.add(update, side, index + 1));
    return replay;
  };
  const replay = played(writings.length);
  const texts = new Map<string, RichText | null>();
  for (const { collection, id, before } of wantedTexts(replay)) {
    const fragment = textOf(played(before - 1).doc, collection, id);
    texts.set(textKey(collection, id), fragment && richTextOf(fragment));
  }
  const taken = takeBack(shape, replay, texts);
  // As everybody else takes it in.
  const doc = newArea(shape);
  for (const update of [...earlier, ...writings.map((one) => one.update)]) Y.applyUpdate(doc, update);
  if (taken.update) Y.applyUpdate(doc, taken.update);
  expect(readArea(doc, shape)).toEqual(readArea(replay.doc, shape));
  return { ...taken, doc };
}

/** Pages that hold the same document, and the log of what they wrote. */
class Pages {
  readonly log: Writing[] = [];
  private readonly docs: Record<Side, Y.Doc>;

  constructor(private readonly shape: AreaShape) {
    this.docs = { theirs: newArea(shape), others: newArea(shape) };
  }

  write(side: Side, work: (doc: Y.Doc) => void, meets = true): void {
    const doc = this.docs[side];
    const before = Y.encodeStateVector(doc);
    work(doc);
    const update = Y.encodeStateAsUpdate(doc, before);
    this.log.push({ side, update });
    const other = this.docs[side === 'theirs' ? 'others' : 'theirs'];
    if (!meets) return;
    Y.applyUpdate(other, Y.encodeStateAsUpdate(doc));
    Y.applyUpdate(doc, Y.encodeStateAsUpdate(other));
  }

  change<S extends AreaShape>(side: Side, ...changes: Change<S>[]): void {
    this.write(side, (doc) => applyChanges(doc, this.shape as S, changes));
  }

  read<S extends AreaShape>(shape: S): AreaData<S> {
    return readArea(this.docs.others, shape);
  }

  text(side: Side, id: string, work: (fragment: Y.XmlFragment) => void): void {
    this.write(side, (doc) => doc.transact(() => work(textOf(doc, 'lessons', id)!)));
  }
}

const id = fc.constantFrom('a', 'b');
const word = fc.constantFrom('bell', 'low', 'turn', 'stop');
const act = fc.record({
  side: fc.constantFrom<Side>('theirs', 'others'),
  what: fc.oneof(
    fc.record({ register: fc.constant('title' as const), value: fc.option(word) }),
    fc.record({ register: fc.constant('phraseBars' as const), value: fc.constantFrom(4, 8, null) }),
    fc.record({ id, at: fc.integer({ min: 0, max: 9 }) }),
    fc.record({ id, word }),
    fc.record({ id, gone: fc.constant(true) }),
  ),
});
type Act = typeof act extends fc.Arbitrary<infer T> ? T : never;

/** A whole cue where there is none, one field where there is one. What is not there leaves no trace when it is cleared. */
function changeOf({ what }: Act, now: Plan): PlanChange | null {
  if ('register' in what)
    return what.value === null && now[what.register] === null ? null : (what as PlanChange);
  const isThere = now.cues.some((cue) => cue.id === what.id);
  if ('gone' in what) return isThere ? { collection: 'cues', id: what.id, fields: null } : null;
  const fields = 'word' in what ? { word: what.word } : { at: recordTime(what.at) };
  const whole = { at: recordTime(1), word: 'first', ...fields };
  return { collection: 'cues', id: what.id, fields: isThere ? fields : whole };
}

describe('taking back what somebody wrote', () => {
  test('leaves exactly what the others wrote, and entries that others have built on', () => {
    fc.assert(
      fc.property(fc.array(act, { maxLength: 12 }), fc.array(act, { maxLength: 20 }), (before, after) => {
        const pages = new Pages(areas.plan);
        let expected = emptyArea(areas.plan);
        const builtOn = new Set<string>();
        const play = (one: Act, side: Side) => {
          const now = pages.read(areas.plan);
          const change = changeOf(one, now);
          if (change === null) return;
          pages.change<typeof areas.plan>(side, change);
          if (side === 'theirs') return;
          if ('collection' in change) {
            const isThere = now.cues.some((cue) => cue.id === change.id);
            const wasTheirs = isThere && !expected.cues.some((cue) => cue.id === change.id);
            if (wasTheirs && change.fields !== null) builtOn.add(change.id);
            else if (!builtOn.has(change.id) || !isThere || change.fields === null) builtOn.delete(change.id);
            if (builtOn.has(change.id)) return;
          }
          expected = changePlan(expected, [change]);
        };
        for (const one of before) play(one, 'others');
        const earlier = pages.log.splice(0).map(({ update }) => update);
        for (const one of after) play(one, one.side);
        const { doc } = takenBack(areas.plan, earlier, pages.log);
        const is = readArea(doc, areas.plan);
        const without = (cues: typeof is.cues) => cues.filter((cue) => !builtOn.has(cue.id));
        expect({ ...is, cues: without(is.cues) }).toEqual({ ...expected, cues: without(expected.cues) });
      }),
      { numRuns: 1000 },
    );
  });

  test('leaves alone whatever only others touched, also where they wrote at the same time', () => {
    const writes = fc.array(fc.record({ act, meets: fc.boolean() }), { maxLength: 20 });
    fc.assert(
      fc.property(writes, (all) => {
        const pages = new Pages(areas.plan);
        pages.change('others', { collection: 'cues', id: 'a', fields: { at: recordTime(1), word: 'first' } });
        const touched = new Set<string>();
        const placeOf = (change: PlanChange) => ('register' in change ? change.register : change.id);
        for (const { act: one, meets } of all) {
          pages.write(
            one.side,
            (doc) => {
              const change = changeOf(one, readArea(doc, areas.plan));
              if (change === null) return;
              applyChanges(doc, areas.plan, [change]);
              if (one.side === 'theirs') touched.add(placeOf(change));
            },
            meets,
          );
        }
        const now = newArea(areas.plan);
        for (const { update } of pages.log) Y.applyUpdate(now, update);
        const [was, is] = [now, takenBack(areas.plan, [], pages.log).doc].map((doc) =>
          readArea(doc, areas.plan),
        );
        for (const name of ['title', 'phraseBars'] as const)
          if (!touched.has(name)) expect(is![name]).toEqual(was![name]);
        const untouched = (plan: typeof is) => plan!.cues.filter((cue) => !touched.has(cue.id));
        expect(untouched(is)).toEqual(untouched(was));
      }),
      { numRuns: 500 },
    );
  });

  const page = { date: '2031-05-01', title: 'First', writtenAt: '2031-05-01T10:00:00.000Z' } as const;
  const lesson = (id: string) =>
    ({ collection: 'lessons', id, fields: page }) as Change<typeof areas.lessons>;
  const paragraph = (words: string) => {
    const element = new Y.XmlElement('paragraph');
    element.insert(0, [new Y.XmlText(words)]);
    return element;
  };
  const wordsIn = (doc: Y.Doc, id: string) =>
    readArea(doc, areas.lessons)
      .lessons.find((one) => one.id === id)
      ?.text.content?.map((part) => part.content?.map(({ text }) => text).join(''));
  const line = (fragment: Y.XmlFragment, place: number) =>
    (fragment.get(place) as Y.XmlElement).get(0) as Y.XmlText;

  test('a text in which only they wrote is as it was, also what they deleted of it', () => {
    const pages = new Pages(areas.lessons);
    pages.change('others', lesson('l'));
    pages.text('others', 'l', (text) => text.insert(0, [paragraph('Frame and hold'), paragraph('Box step')]));
    const earlier = pages.log.splice(0).map(({ update }) => update);
    pages.text('theirs', 'l', (text) => text.delete(0, 1));
    pages.text('theirs', 'l', (text) => line(text, 0).insert(0, 'Never '));
    const { doc, left, undone } = takenBack(areas.lessons, earlier, pages.log);
    expect([wordsIn(doc, 'l'), left, undone]).toEqual([['Frame and hold', 'Box step'], [], 1]);
  });

  test('of a text in which others wrote since, what they put in goes and the others’ words stay', () => {
    const pages = new Pages(areas.lessons);
    pages.change('others', lesson('l'));
    pages.text('others', 'l', (text) => text.insert(0, [paragraph('Box step')]));
    const earlier = pages.log.splice(0).map(({ update }) => update);
    pages.text('theirs', 'l', (text) => text.insert(1, [paragraph('Rubbish'), paragraph('More')]));
    pages.text('theirs', 'l', (text) => line(text, 0).insert(3, 'ing'));
    pages.text('others', 'l', (text) => line(text, 1).insert(0, 'Turn '));
    const { doc, left, undone } = takenBack(areas.lessons, earlier, pages.log);
    expect([wordsIn(doc, 'l'), undone]).toEqual([['Box step', 'Turn '], 1]);
    expect(left).toEqual([
      'A lesson’s page has words of others beside theirs: what they put in is taken out, what they took out may be missing.',
    ]);
  });

  test('an entry that they deleted comes back with its text, one that they made goes', () => {
    const pages = new Pages(areas.lessons);
    pages.change('others', lesson('l'));
    pages.text('others', 'l', (text) => text.insert(0, [paragraph('Box step')]));
    const earlier = pages.log.splice(0).map(({ update }) => update);
    pages.text('others', 'l', (text) => text.insert(1, [paragraph('Slowly')]));
    pages.change('theirs', { collection: 'lessons', id: 'l', fields: null } as never, lesson('m'));
    const { doc, left, undone } = takenBack(areas.lessons, earlier, pages.log);
    expect(readArea(doc, areas.lessons).lessons).toMatchObject([{ id: 'l', ...page }]);
    expect([wordsIn(doc, 'l'), left, undone]).toEqual([['Box step', 'Slowly'], [], 2]);
  });

  test('nothing is written where there is nothing to take back', () => {
    const pages = new Pages(areas.plan);
    pages.change<typeof areas.plan>('others', { register: 'title', value: 'One' });
    pages.change<typeof areas.plan>('theirs', { register: 'title', value: 'Two' });
    pages.change<typeof areas.plan>('others', { register: 'title', value: 'Three' });
    const { update, undone, left } = takenBack(areas.plan, [], pages.log);
    expect([update, undone]).toEqual([null, 0]);
    expect(left).toEqual(['The name of the dance stays: somebody else has changed it since.']);
  });
});
