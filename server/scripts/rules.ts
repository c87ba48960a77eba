/** Writes lib/core/checks/rules.generated.ts: run it after adding or removing a rule. */
import { readdirSync, writeFileSync } from 'node:fs';
import { rulesIndex } from '../../lib/core/checks/generate.ts';

const checks = new URL('../../lib/core/checks/', import.meta.url);
writeFileSync(new URL('rules.generated.ts', checks), rulesIndex(readdirSync(new URL('rules/', checks))));
