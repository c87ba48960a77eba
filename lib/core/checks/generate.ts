import type { Finding, Rule } from './finding.ts';

/**
 * The text of rules.generated.ts from the names of the files under rules/. Run by tests/core/checks/write.ts; a test holds the
 * written file against it.
 */
export function rulesIndex(files: readonly string[]): string {
  const ids = files
    .filter((file) => file.endsWith('.ts'))
    .map((file) => file.slice(0, -3))
    .sort();
  const name = (id: string) => id.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());
  return [
    '// Generated from the files under rules/ by `node --import tsx tests/core/checks/write.ts`; do not edit.',
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

const GROUPS: Record<Rule['about'], string> = {
  song: 'The song',
  length: 'Its length',
  edit: 'The edit',
  moves: 'The moves',
  'walk-on': 'Walking on',
  ending: 'The ending',
  handover: 'Handing over',
};

/**
 * What each rule finds, for people: the text of RULES.md.
 * @param exampleOf a finding of the rule with this id, as made on a board that breaks it
 */
export function rulesPage(
  rules: readonly Rule[],
  exampleOf: (id: string) => Pick<Finding, 'sentence' | 'fix'>,
): string {
  const lines = [
    '# What the checks look at',
    '',
    'Generated from the rules by `node --import tsx tests/core/checks/write.ts`. A finding _blocks_ (it cannot be danced or played',
    'like this), _warns_ or _hints_. A fix is offered only when applying it ends its finding and blocks nothing else.',
  ];
  for (const [about, heading] of Object.entries(GROUPS)) {
    lines.push('', `## ${heading}`);
    for (const rule of rules.filter((one) => one.about === about)) {
      const fix = rule.fixes.length > 0 ? ` A fix may change: ${rule.fixes.join(', ')}.` : '';
      const { sentence, fix: offered } = exampleOf(rule.id);
      lines.push(
        '',
        `### ${rule.id} (${rule.severity})`,
        '',
        rule.what,
        `Why: ${rule.why}`,
        `What to do: ${rule.todo}`,
        `For example: _${sentence}_${offered ? ` **${offered.words}**` : ''}`,
        `Reads: ${rule.reads.join(', ')}. Threshold: ${rule.source}.${fix}`,
      );
    }
  }
  return `${lines.join('\n')}\n`;
}
