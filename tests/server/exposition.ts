/**
 * A reader of Prometheus' text format, written from its published description (exposition format 0.0.4, "Text format details",
 * prometheus.io/docs/instrumenting/exposition_formats) and as strict as that is. Throws on the first line that is not of it.
 */
export interface Family {
  help: string;
  type: string;
  samples: { name: string; labels: Record<string, string>; value: number }[];
}

const NAME = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const LABEL = '[a-zA-Z_][a-zA-Z0-9_]*';
const types = ['counter', 'gauge', 'histogram', 'summary', 'untyped'];

export function readExposition(text: string): Map<string, Family> {
  // "Lines are separated by a line feed character. The last line must end with a line feed character."
  if (!text.endsWith('\n')) throw new Error('no line feed at the end');
  const families = new Map<string, Family>();
  const seen = new Set<string>();
  let current = '';
  for (const line of text.slice(0, -1).split('\n')) {
    const fail = (why: string): never => {
      throw new Error(`${why}: ${line}`);
    };
    const comment = new RegExp(`^# (HELP|TYPE) (${NAME}) (.*)$`).exec(line);
    if (comment) {
      const [, kind, name = '', rest = ''] = comment;
      if (kind === 'HELP') {
        // "Only one HELP line may exist for any given metric name", and all lines of a metric are one group.
        if (families.has(name)) fail('a second group');
        if (/\\(?![\\n])/.test(rest)) fail('a backslash that escapes nothing');
        families.set(name, { help: rest, type: '', samples: [] });
        current = name;
        continue;
      }
      const family = families.get(name);
      if (!family || name !== current) return fail('a type before its help');
      if (family.type !== '' || family.samples.length > 0) fail('a type that comes late');
      if (!types.includes(rest)) fail('no type');
      family.type = rest;
      continue;
    }
    const sample =
      new RegExp(`^(${NAME})(?:\\{(.*)\\})? (\\S+)$`).exec(line) ?? fail('no line of the format');
    const [, name = '', inside, value = ''] = sample;
    const family = families.get(current) ?? fail('a sample before any help');
    const suffixes = family.type === 'histogram' ? ['_bucket', '_sum', '_count'] : [''];
    if (!suffixes.some((suffix) => name === current + suffix)) fail('a sample of another metric');
    const key = `${name}{${inside ?? ''}}`;
    if (seen.has(key)) fail('the same sample twice');
    seen.add(key);
    if (!/^([+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?|NaN|[+-]Inf)$/.test(value)) fail('no number');
    family.samples.push({ name, labels: labelsOf(inside ?? '', fail), value: Number(value) });
  }
  for (const [name, family] of families) checkFamily(name, family);
  return families;
}

function labelsOf(inside: string, fail: (why: string) => never): Record<string, string> {
  const labels: Record<string, string> = {};
  let rest = inside;
  while (rest !== '') {
    // In a value, backslash, double quote and line feed are escaped.
    const match =
      new RegExp(`^(${LABEL})="((?:[^"\\\\\\n]|\\\\[\\\\"n])*)"(,|$)`).exec(rest) ?? fail('no label');
    labels[match[1]!] = match[2]!;
    rest = rest.slice(match[0].length);
  }
  return labels;
}

/** Histograms: buckets rise with `le`, the last is +Inf and equals the count; a sum is there. */
function checkFamily(name: string, { type, samples }: Family): void {
  if (type === '') throw new Error(`${name} has no type`);
  if (type === 'counter' && samples.some(({ value }) => value < 0))
    throw new Error(`${name} is below nothing`);
  if (type !== 'histogram') return;
  const buckets = samples.filter((one) => one.name === `${name}_bucket`);
  const bounds = buckets.map(({ labels }) =>
    labels.le === '+Inf' ? Number.POSITIVE_INFINITY : Number(labels.le),
  );
  const values = buckets.map(({ value }) => value);
  const rises = (list: number[]) => list.every((value, index) => index === 0 || value >= list[index - 1]!);
  const count = samples.find((one) => one.name === `${name}_count`)?.value;
  const sum = samples.find((one) => one.name === `${name}_sum`);
  if (!rises(bounds) || !rises(values)) throw new Error(`the buckets of ${name} do not rise`);
  if (bounds.at(-1) !== Number.POSITIVE_INFINITY || values.at(-1) !== count || !sum)
    throw new Error(`${name} is no whole histogram`);
}
