import { writeFile } from 'node:fs/promises';
import { policyPage } from './policyTable.ts';

await writeFile(new URL('../../../lib/core/agreed/POLICY.md', import.meta.url), policyPage());
