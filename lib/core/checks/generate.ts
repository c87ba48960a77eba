/**
 * The text of rules.generated.ts from the names of the files under rules/. Run by server/scripts/rules.ts; a test holds the
 * written file against it.
 */
export function rulesIndex(files: readonly string[]): string {
  const ids = files
    .filter((file) => file.endsWith('.ts'))
    .map((file) => file.slice(0, -3))
    .sort();
  const name = (id: string) => id.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());
  return [
    '// Generated from the files under rules/ by `node --import tsx server/scripts/rules.ts`; do not edit.',
    "import type { Rule } from './finding.ts';",
    ...ids.map((id) => `import { rule as ${name(id)} } from './rules/${id}.ts';`),
    '',
    '/** All rules, by id. */',
    'export const rules: readonly Rule[] = [',
    ...ids.map((id) => `  ${name(id)},`),
    '];',
    '',
  ].join('\n');
}
