import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  barsOf,
  barWords,
  firstSection,
  joined,
  renamed,
  split,
  startConfirmed,
  startMoved,
} from '../../../app/_song/sectionSteps.ts';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { inOrder } from '../../../lib/core/edit/sectionNames.ts';
import { barAt, planOf } from '../../kit/board.ts';

/** Changed by somebody else than who confirmed it. */
const by = (plan: Plan) => ({ ...plan, by: 'Ilse' });
type Song = ReturnType<typeof by>;

const starts = (plan: Plan) => inOrder(plan.sections).map(({ start }) => start);

it('one bar is a bar', () => expect([1, 2, 0].map(barWords)).toEqual(['1 bar', '2 bars', '0 bars']));

describe('sections put right', () => {
  const plan = planOf();

  it('a start moves by whole bars', () => {
    const next = changePlan(plan, startMoved(by(plan), 's1', 1));
    expect(starts(next)[1]).toBeCloseTo(barAt(9), 5);
    expect(barsOf(next).get('s0')).toBe(9);
  });

  const wordOf = (next: Plan) => Object.fromEntries(next.sections.map((one) => [one.id, one.confirmedBy]));
  const nobodys = { ...plan, sections: plan.sections.map((one) => ({ ...one, confirmedBy: null })) };

  it.each([
    ['a start moved', 's1', (song: Song) => startMoved(song, 's1', 1)],
    ['a section split', 'new', (song: Song) => split(song, 's1', 4, 'new')],
    ['a section that begins where it says', 's1', (song: Song) => startConfirmed(song, 's1')],
  ])('%s: who did it confirms that section, and no other', (_, id, correct) => {
    for (const before of [plan, nobodys])
      expect(wordOf(changePlan(before, correct(by(before))))).toEqual({ ...wordOf(before), [id]: 'Ilse' });
  });

  it.each([
    ['a section joined', joined(by(plan), 's1')],
    ['a section renamed', renamed('s1', { name: 'the lift' })],
    ['a section of another kind', renamed('s1', { kind: 'bridge' })],
  ])('%s confirms none and opens none', (_, changes) => {
    for (const before of [plan, nobodys])
      expect(wordOf(before)).toMatchObject(wordOf(changePlan(before, changes)));
  });

  it('what changes nothing confirms nothing', () => {
    expect(startMoved(by(plan), 's0', -1)).toEqual([]);
    expect(joined(by(plan), 's0')).toEqual([]);
  });

  it('no start passes its neighbour or leaves the song', () => {
    expect(startMoved(by(plan), 's1', -8)).toEqual([]);
    expect(startMoved(by(plan), 's1', 16)).toEqual([]);
    expect(startMoved(by(plan), 's0', -1)).toEqual([]);
  });

  it('a section is split at a bar inside it, and joined again', () => {
    const twice = changePlan(plan, split(by(plan), 's1', 4, 'new'));
    expect(barsOf(twice).get('s1')).toBe(4);
    expect(barsOf(twice).get('new')).toBe(12);
    expect(barsOf(changePlan(twice, joined(by(twice), 'new'))).get('s1')).toBe(16);
    expect(split(by(plan), 's1', 16, 'new')).toEqual([]);
    expect(split(by(plan), 's1', 0, 'new')).toEqual([]);
  });

  it('a song without sections gets one that holds all its bars', () => {
    const none = planOf({}, { sections: [] });
    const one = changePlan(none, firstSection(by(none), 'only'));
    expect(barsOf(one).get('only')).toBe(none.grid!.bars.length);
    expect(wordOf(one)).toEqual({ only: null });
    expect(firstSection(by(plan), 'more')).toEqual([]);
    expect(firstSection({ ...by(none), grid: null }, 'only')).toEqual([]);
  });

  it('the first section has none before it to join', () => {
    expect(joined(by(plan), 's0')).toEqual([]);
  });

  it('a name changes nothing but itself', () => {
    const next = changePlan(plan, renamed('s2', { name: 'the lift' }));
    expect(starts(next)).toEqual(starts(plan));
    expect(next.sections.find(({ id }) => id === 's2')?.name).toBe('the lift');
  });

  it('whatever is done, all bars of the song stay in some section, each section has at least one', () => {
    const step = fc.record({
      what: fc.constantFrom('move', 'split', 'join'),
      which: fc.nat(20),
      bars: fc.integer({ min: -20, max: 20 }),
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 12 }), (steps) => {
        let now = plan;
        for (const [i, { what, which, bars }] of steps.entries()) {
          const sections = inOrder(now.sections);
          const { id } = sections[which % sections.length]!;
          const changes: PlanChange[] =
            what === 'move'
              ? startMoved(by(now), id, bars)
              : what === 'split'
                ? split(by(now), id, bars, `n${i}`)
                : joined(by(now), id);
          now = changePlan(now, changes);
        }
        const lengths = [...barsOf(now).values()];
        expect(Math.min(...lengths)).toBeGreaterThan(0);
        const before = barsOf(now).size > 0 ? starts(now)[0]! : 0;
        const lead = now.grid!.bars.filter((i) => now.grid!.beats[i]! < before - 1e-6).length;
        expect(lead + lengths.reduce((sum, n) => sum + n, 0)).toBe(now.grid!.bars.length);
      }),
    );
  });
});
