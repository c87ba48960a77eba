import { expect, test } from 'vitest';
import { Metrics } from '../../server/metrics.ts';
import { readExposition } from './exposition.ts';

test('metrics are in the text format that Prometheus reads, with help and type', () => {
  const metrics = new Metrics();
  metrics.gauge('rooms', () => 3);
  metrics.gauge('connections', () => 12);
  for (const why of ['revoked', 'revoked', 'a "quoted" \\ reason\nin two lines'])
    metrics.count('closed', why);
  for (const seconds of [0.0005, 0.004, 0.3, 7]) metrics.commit(seconds);
  const families = readExposition(metrics.text());
  for (const { help } of families.values()) expect(help).toMatch(/^[A-Z].*\.$/);
  expect([...families].map(([name, { type }]) => [name, type])).toEqual([
    ['larkstep_rooms', 'gauge'],
    ['larkstep_connections', 'gauge'],
    ['larkstep_closed_total', 'counter'],
    ['larkstep_commit_seconds', 'histogram'],
  ]);
  expect(families.get('larkstep_closed_total')?.samples).toEqual([
    { name: 'larkstep_closed_total', labels: { why: 'revoked' }, value: 2 },
    {
      name: 'larkstep_closed_total',
      labels: { why: 'a \\"quoted\\" \\\\ reason\\nin two lines' },
      value: 1,
    },
  ]);
  const buckets = families.get('larkstep_commit_seconds')!.samples;
  expect(buckets.find(({ labels }) => labels.le === '0.005')?.value).toBe(2);
  expect(buckets.at(-1)).toMatchObject({ name: 'larkstep_commit_seconds_count', value: 4 });
});

test.each([
  ['no line feed at the end', '# HELP a A.\n# TYPE a gauge\na 1'],
  ['a sample without a type', '# HELP a A.\na 1\n'],
  ['a sample of another name', '# HELP a A.\n# TYPE a gauge\nb 1\n'],
  ['a type that is none', '# HELP a A.\n# TYPE a dial\na 1\n'],
  ['a value that is none', '# HELP a A.\n# TYPE a gauge\na one\n'],
  ['a label without quotes', '# HELP a A.\n# TYPE a gauge\na{b=1} 1\n'],
  ['a quote that is not escaped', '# HELP a A.\n# TYPE a gauge\na{b="c"d"} 1\n'],
  ['the same sample twice', '# HELP a A.\n# TYPE a gauge\na 1\na 2\n'],
  [
    'a histogram without its end',
    '# HELP a A.\n# TYPE a histogram\na_bucket{le="1"} 1\na_sum 1\na_count 1\n',
  ],
])('the reader refuses %s', (_what, text) => {
  expect(() => readExposition(text)).toThrow();
});
