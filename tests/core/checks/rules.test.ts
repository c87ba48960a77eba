import { describe, expect, it } from 'vitest';
import { rules } from '../../../lib/core/checks/rules.generated.ts';
import { mutants } from './mutants.ts';
import { failuresOf, table } from './table.ts';

describe('each rule accepts, refuses and fixes', () => {
  it.each(table)('%s', (...row) => {
    expect(failuresOf(row)).toEqual([]);
  });

  it('has a row for every rule', () => {
    expect(table.map(([rule]) => rule).sort()).toEqual(rules.map(({ id }) => id).sort());
  });

  it('is noticed by its row when it is switched off, or its fix is spoilt', () => {
    const all = mutants();
    expect(all.filter(({ spoilt }) => spoilt === 'switched off').length).toBe(rules.length);
    expect(all.filter(({ failures }) => failures.length === 0)).toEqual([]);
  });
});
