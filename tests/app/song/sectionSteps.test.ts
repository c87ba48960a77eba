import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { barsOf, firstSection, joined, renamed, split, startMoved } from '../../../app/_song/sectionSteps.ts';
import { changePlan, type PlanChange } from '../../../lib/core/areas/change.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { inOrder } from '../../../lib/core/edit/sectionNames.ts';
import { barAt, planOf } from '../../kit/board.ts';

const starts = (plan: Plan) => inOrder(plan.sections).map(({ start }) => start);

describe('sections put right', () => {
  const plan = planOf();

  it('a start moves by whole bars and takes back that the sections were confirmed', () => {
    const next = changePlan(plan, startMoved(plan, 's1', 1));
    expect(starts(next)[1]).toBeCloseTo(barAt(9), 5);
    expect(next.sectionsConfirmedBy).toBeNull();
    expect(barsOf(next).get('s0')).toBe(9);
  });

  it('no start passes its neighbour or leaves the song', () => {
    expect(startMoved(plan, 's1', -8)).toEqual([]);
    expect(startMoved(plan, 's1', 16)).toEqual([]);
    expect(startMoved(plan, 's0', -1)).toEqual([]);
  });

  it('a section is split at a bar inside it, and joined again', () => {
    const twice = changePlan(plan, split(plan, 's1', 4, 'new'));
    expect(barsOf(twice).get('s1')).toBe(4);
    expect(barsOf(twice).get('new')).toBe(12);
    expect(barsOf(changePlan(twice, joined(twice, 'new'))).get('s1')).toBe(16);
    expect(split(plan, 's1', 16, 'new')).toEqual([]);
    expect(split(plan, 's1', 0, 'new')).toEqual([]);
  });

  it('a song without sections gets one that holds all its bars', () => {
    const none = planOf({}, { sections: [], sectionsConfirmedBy: null });
    const one = changePlan(none, firstSection(none, 'only'));
    expect(barsOf(one).get('only')).toBe(none.grid!.bars.length);
    expect(firstSection(plan, 'more')).toEqual([]);
    expect(firstSection({ ...none, grid: null }, 'only')).toEqual([]);
  });

  it('the first section has none before it to join', () => {
    expect(joined(plan, 's0')).toEqual([]);
  });

  it('a name changes nothing but itself', () => {
    const next = changePlan(plan, renamed(plan, 's2', { name: 'the lift' }));
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
              ? startMoved(now, id, bars)
              : what === 'split'
                ? split(now, id, bars, `n${i}`)
                : joined(now, id);
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
