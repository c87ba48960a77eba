import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { rulesIndex, rulesPage } from '../../../lib/core/checks/generate.ts';
import { rules } from '../../../lib/core/checks/rules.generated.ts';
import { exampleOf } from './table.ts';

const checks = new URL('../../../lib/core/checks/', import.meta.url);

it('the index of rules is what its generator writes', () => {
  const written = readFileSync(new URL('rules.generated.ts', checks), 'utf8');
  expect(written).toBe(rulesIndex(readdirSync(new URL('rules/', checks))));
});

it('the page about the rules is what its generator writes', () => {
  expect(readFileSync(new URL('RULES.md', checks), 'utf8')).toBe(rulesPage(rules, exampleOf));
});

it('each rule is named as its file, and its header says what, why, what to do and from where', () => {
  const files = readdirSync(new URL('rules/', checks)).map((file) => file.slice(0, -3));
  expect(rules.map(({ id }) => id).sort()).toEqual(files.sort());
  for (const { id, what, why, todo, source, reads } of rules) {
    for (const words of [what, why, todo, source]) expect(words, id).not.toBe('');
    expect(reads, id).toContain('plan');
  }
});

it('every group of the table of rules has rules', () => {
  expect(new Set(rules.map(({ about }) => about))).toEqual(
    new Set(['song', 'length', 'edit', 'moves', 'walk-on', 'ending', 'handover']),
  );
});
