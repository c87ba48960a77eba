import type { z } from './zod.ts';

type Issue = z.core.$ZodIssue;

/** The first thing that a schema has against a value, as people read it: `lead: at most 1800`; the place comes first. */
export function refusalWords({ issues }: z.core.$ZodError): string {
  const issue = issues[0]!;
  const place = issue.path.join('.');
  return place === '' ? issueWords(issue) : `${place}: ${issueWords(issue)}`;
}

const KINDS: Record<string, string> = {
  number: 'a number is needed',
  int: 'a whole number is needed',
  string: 'words are needed',
  array: 'a list is needed',
  object: 'several named values are needed',
  boolean: 'yes or no is needed',
};
const UNITS: Record<string, string> = { string: ' letters', array: ' of them' };

/** Our own rules say in words what they want; the library's are put into words here. */
export function issueWords(issue: Issue): string {
  switch (issue.code) {
    case 'too_big':
      return `at most ${issue.maximum}${UNITS[issue.origin] ?? ''}`;
    case 'too_small':
      return issue.origin === 'string' && Number(issue.minimum) === 1
        ? 'it must not be empty'
        : `at least ${issue.minimum}${UNITS[issue.origin] ?? ''}`;
    case 'invalid_type':
      return KINDS[issue.expected] ?? 'something else is needed';
    case 'invalid_value':
      return `one of ${issue.values.map(String).join(', ')} is needed`;
    case 'unrecognized_keys':
      return `there is no ${issue.keys.join(', ')}`;
    case 'invalid_format':
      return 'it is not written as it should be';
    case 'invalid_union':
      return 'something else is needed';
    default:
      return issue.message;
  }
}
