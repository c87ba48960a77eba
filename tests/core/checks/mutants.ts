import type { Draft, Rule } from '../../../lib/core/checks/finding.ts';
import { rules } from '../../../lib/core/checks/rules.generated.ts';
import { failuresOf, table } from './table.ts';

/** A rule spoilt in one way, and what its row of the table then finds wrong: nothing when the spoilt rule goes unnoticed. */
interface Mutant {
  rule: string;
  spoilt: string;
  failures: string[];
}

type Spoil = (found: Draft[]) => Draft[];
const ways: Record<string, { of: (rule: Rule, fixed: boolean) => boolean; spoil: Spoil }> = {
  'switched off': { of: () => true, spoil: () => [] },
  'no fix': {
    of: (_, fixed) => fixed,
    spoil: (found) => found.map(({ fixes: _, ...draft }) => draft),
  },
  'fix does nothing': {
    of: (_, fixed) => fixed,
    spoil: (found) => found.map((draft) => ({ ...draft, fixes: () => [{ words: 'Nothing', changes: [] }] })),
  },
};

/** Spoils each rule in turn, in each way that applies to it, and puts it right again. */
export function mutants(): Mutant[] {
  return rules.flatMap((rule) => {
    const row = table.find(([id]) => id === rule.id);
    if (!row) return [{ rule: rule.id, spoilt: 'has no row', failures: [] }];
    const { run } = rule;
    return Object.entries(ways)
      .filter(([, { of }]) => of(rule, row[3]))
      .map(([spoilt, { spoil }]) => {
        rule.run = (sight) => spoil(run(sight));
        try {
          return { rule: rule.id, spoilt, failures: failuresOf(row) };
        } finally {
          rule.run = run;
        }
      });
  });
}
