import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = join(import.meta.dirname, '..', '..');
const page = readFileSync(join(root, 'server', 'THREATS.md'), 'utf8');
const sources = readdirSync(join(root, 'tests'), { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.(test|contract)\.ts$/.test(name) && !name.endsWith('threats.test.ts'))
  .map((name) => readFileSync(join(root, 'tests', name), 'utf8'));

/** What stands in quotes in the last column of a table. */
const named = page
  .split('\n')
  .filter((line) => line.startsWith('| ') && !line.startsWith('| ---'))
  .flatMap((line) =>
    [
      ...line
        .split('|')
        .at(-2)!
        .matchAll(/"([^"]+)"/g),
    ].map(([, title]) => title!),
  );

/** A title as it stands in a source, whatever quotes are around it; rows of a table fill in a %s. */
function exists(title: string): boolean {
  const [first = ''] = title.split(': ');
  const written = [title, `%s${title.slice(first.length)}`].flatMap((words) =>
    ["'", '"', '`'].map((quote) => quote + words + quote),
  );
  return sources.some((source) => {
    if (source.includes(written[0]!) || source.includes(written[1]!) || source.includes(written[2]!))
      return true;
    // The row that fills in the %s must be there too.
    return (
      title.includes(': ') &&
      source.includes(`'${first}'`) &&
      written.slice(3).some((words) => source.includes(words))
    );
  });
}

test('every test that the page of threats names exists', () => {
  expect(named.length).toBeGreaterThan(50);
  expect(named.filter((title) => !exists(title))).toEqual([]);
});
