import { describe, expect, test } from 'vitest';
import * as Y from 'yjs';
import type { PlanChange } from '../../lib/core/areas/change.ts';
import { takeInstead } from '../../lib/core/areas/lost.ts';
import { recordTime } from '../../lib/core/units.ts';
import { meet, Page } from './watched.ts';

const word = (word: string, id = 'cue'): PlanChange => ({ collection: 'cues', id, fields: { word } });
const cue = (word: string, id = 'cue'): PlanChange => ({
  collection: 'cues',
  id,
  fields: { at: recordTime(12), word },
});
const place = { collection: 'cues', id: 'cue', field: 'word' };

/** Pages that hold the same cue word; of two that write at once the later one's stands. */
function pages(n: number): Page[] {
  const all = Array.from({ length: n }, (_, i) => new Page(i + 1));
  all[0]!.change(cue('bell'), { register: 'title', value: 'First' });
  for (const page of all.slice(1)) page.hear(all[0]!);
  for (const page of all) expect(page.told).toEqual([]);
  return all;
}

describe('two who write one word at the same time', () => {
  test('both are told, whichever stands, and whoever arrives', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.change(word('low strings'));
    meet(one, other);
    const lost = { ...place, lost: 'the cello', stands: 'low strings', entry: null };
    expect(one.told).toEqual([{ ...lost, mine: true }]);
    expect(other.told).toEqual([{ ...lost, mine: false }]);
  });

  test('one who took the other’s in first and then wrote has seen it', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.hear(one).change(word('low strings'));
    one.hear(other);
    expect([...one.told, ...other.told]).toEqual([]);
  });

  test('it is told also where the other one wrote on since', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.change(word('low strings')).change(word('low drums'));
    one.hear(other);
    expect(one.told).toEqual([{ ...place, lost: 'the cello', stands: 'low drums', mine: true, entry: null }]);
  });

  test('of what one wrote twice the later is lost', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cell')).change(word('the cello'));
    other.change(word('low strings'));
    meet(one, other);
    for (const page of [one, other]) expect(page.told.map(({ lost }) => lost)).toEqual(['the cello']);
  });

  test('nothing is told where both wrote the same, also when one writes on', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.change(word('the cello'));
    meet(one, other);
    one.hear(other.change(word('low strings')));
    expect([...one.told, ...other.told]).toEqual([]);
  });

  test('two fields in one update are two', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'), { register: 'title', value: 'Mine' });
    other.change({ register: 'title', value: 'Theirs' }, word('low strings'));
    one.hear(other);
    const { told } = one;
    expect(told).toHaveLength(2);
    expect(told).toContainEqual({
      register: 'title',
      lost: 'Mine',
      stands: 'Theirs',
      mine: true,
      entry: null,
    });
    expect(told).toContainEqual({
      ...place,
      ...{ lost: 'the cello', stands: 'low strings', mine: true, entry: null },
    });
  });

  test('of three, two lose, and each is told of their own', () => {
    const all = pages(3);
    const [one, two, three] = all as [Page, Page, Page];
    for (const [i, page] of all.entries()) page.change(word(`word ${i + 1}`));
    three.hear(one).hear(two);
    expect(three.told.map(({ lost }) => lost)).toEqual(['word 1', 'word 2']);
    one.hear(three);
    two.hear(three);
    expect(one.told).toEqual([{ ...place, lost: 'word 1', stands: 'word 3', mine: true, entry: null }]);
    expect(two.told).toEqual([{ ...place, lost: 'word 2', stands: 'word 3', mine: true, entry: null }]);
  });

  test('undo is no loss of what is undone', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.hear(one);
    one.change(word('bell'));
    other.hear(one);
    expect([...one.told, ...other.told]).toEqual([]);
  });

  test('what is taken instead stands everywhere, and tells nobody of anything', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.change(word('low strings'));
    meet(one, other);
    one.change(takeInstead(one.told[0]!));
    void other.told;
    other.hear(one);
    expect(other.plan.cues[0]!.word).toBe('the cello');
    expect(other.plan).toEqual(one.plan);
    expect([...one.told, ...other.told]).toEqual([]);
  });
});

describe('a document that is loaded', () => {
  test('tells nothing of what was lost before, and what was lost is told where one of the two was held', () => {
    const [one, other] = pages(2) as [Page, Page];
    const before = Y.encodeStateAsUpdate(one.doc);
    one.change(word('the cello'));
    other.change(word('low strings'));
    const [mine, theirs] = [Y.encodeStateAsUpdate(one.doc), Y.encodeStateAsUpdate(other.doc)];
    // As the copy on a device is read: every update that it kept, in one transaction.
    const opened = new Page(9);
    Y.transact(
      opened.doc,
      () => {
        for (const update of [before, mine, theirs]) opened.take(update);
      },
      'copy',
      false,
    );
    expect(opened.told).toEqual([]);
    expect(opened.plan.cues[0]!.word).toBe('low strings');
    // What was missed, both at once, is old news, too.
    const away = new Page(9).take(before).take(Y.mergeUpdates([mine, theirs]));
    expect(away.told).toEqual([]);
    expect(away.plan.cues[0]!.word).toBe('low strings');
    // Written here before the page was closed, and sent by nobody yet: whichever comes first.
    for (const [first, then] of [
      [mine, theirs],
      [theirs, mine],
    ] as const) {
      const page = new Page(9).take(first);
      expect(page.told).toEqual([]);
      expect(page.take(then).told).toMatchObject([{ ...place, lost: 'the cello', stands: 'low strings' }]);
    }
  });
});

describe('an entry that one takes away while another changes it', () => {
  const gone: PlanChange = { collection: 'cues', id: 'cue', fields: null };
  const whole = { at: 12, word: 'the cello' };

  test('the change is told, and brings the entry back', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.change(gone);
    meet(one, other);
    const told = one.told;
    expect(told).toEqual([{ ...place, lost: 'the cello', stands: null, mine: true, entry: whole }]);
    other.hear(one.change(takeInstead(told[0]!)));
    expect(other.plan.cues).toEqual([{ id: 'cue', ...whole }]);
  });

  test('one who had seen the change may take it away', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.hear(one).change(gone);
    one.hear(other);
    expect(one.told).toEqual([]);
  });

  test('where it was put back, what stands is what was put back', () => {
    const [one, other] = pages(2) as [Page, Page];
    one.change(word('the cello'));
    other.change(gone).change(cue('bell'));
    one.hear(other);
    expect(one.told).toEqual([{ ...place, lost: 'the cello', stands: 'bell', mine: true, entry: null }]);
  });

  test('of two entries of one id what differs is told', () => {
    const [one, other] = [new Page(1), new Page(2)];
    for (const page of [one, other]) page.change({ register: 'title', value: 'First' });
    one.change(cue('the cello'));
    other.change(cue('low strings'));
    meet(one, other);
    const lost = { ...place, lost: 'the cello', stands: 'low strings', entry: null };
    expect(one.told).toEqual([{ ...lost, mine: true }]);
    expect(other.told).toEqual([{ ...lost, mine: false }]);
  });

  test('what was missed of both is old news', () => {
    const [one, other] = pages(2) as [Page, Page];
    const before = Y.encodeStateAsUpdate(one.doc);
    one.change(word('the cello'), cue('the viola', 'new'));
    other.change(gone, cue('the harp', 'new'));
    const away = new Page(9).take(before);
    away.take(Y.mergeUpdates([away.newsOf(one), away.newsOf(other)]));
    expect(away.told).toEqual([]);
    expect(away.plan.cues.map(({ word }) => word)).toEqual(['the harp']);
  });
});
