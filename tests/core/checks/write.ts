/** Writes rules.generated.ts and RULES.md in lib/core/checks: run it after adding, removing or rewording a rule. */
import { readdirSync, writeFileSync } from 'node:fs';
import { rulesIndex, rulesPage } from '../../../lib/core/checks/generate.ts';

const checks = new URL('../../../lib/core/checks/', import.meta.url);
const index = new URL('rules.generated.ts', checks);
writeFileSync(index, rulesIndex(readdirSync(new URL('rules/', checks))));
// Only now, so that the page is of the rules that the index names, with examples from the table of their tests.
const { rules } = await import(index.href);
const { exampleOf } = await import('./table.ts');
writeFileSync(new URL('RULES.md', checks), rulesPage(rules, exampleOf));
