import { backupVerb } from './backup.ts';
import { checkVerb } from './check.ts';
import { compareVerb } from './compare.ts';
import { about } from './failure.ts';
import { handVerb } from './hand.ts';
import { helpOf, usage } from './help.ts';
import { linksVerb } from './links.ts';
import { listenVerb } from './listen.ts';
import { nearest } from './nearest.ts';
import { parsed } from './parse.ts';
import { passphraseVerb } from './passphrase.ts';
import { renderVerb } from './render.ts';
import { restoreVerb } from './restore.ts';
import { scoreVerb } from './score.ts';
import { shapeVerb } from './shape.ts';
import type { Verb } from './verb.ts';
import { verifyVerb } from './verify.ts';
import { Wrong } from './wrong.ts';

export const verbs: Record<string, Verb> = {
  listen: listenVerb,
  shape: shapeVerb,
  render: renderVerb,
  compare: compareVerb,
  check: checkVerb,
  hand: handVerb,
  score: scoreVerb,
  links: linksVerb,
  passphrase: passphraseVerb,
  backup: backupVerb,
  restore: restoreVerb,
  verify: verifyVerb,
};

/** How a call ends: 0 fine, 1 findings that block, 2 wrong use or input; `line` is one line for standard error. */
export interface Ended {
  code: 0 | 1 | 2;
  out: string;
  line: string;
}

/** @param report told in a few words what is being done, where that takes long */
export async function run(
  args: readonly string[],
  report: (words: string) => void = () => {},
): Promise<Ended> {
  try {
    return await answer(args, report);
  } catch (error) {
    const { path } = Object(error) as { path?: unknown };
    const known = about(typeof path === 'string' ? path : 'larkstep', error);
    // Anything else is a fault of ours, and shows its stack.
    if (!(known instanceof Wrong)) throw error;
    return { code: 2, out: '', line: oneLine(known.message) };
  }
}

async function answer(
  [name = '', ...rest]: readonly string[],
  report: (words: string) => void,
): Promise<Ended> {
  if (name === 'help' || isHelp(name)) {
    const asked = rest.find((word) => !word.startsWith('-'));
    return told(asked === undefined ? usage(verbs) : helpOf(asked, verbOf(asked)));
  }
  const verb = verbOf(name);
  if (beforeWords(rest).some(isHelp)) return told(helpOf(name, verb));
  const { words, given } = parsed(name, verb, rest);
  const said = await verb.run(words, given, report);
  const out = given.json ? JSON.stringify(said.json) : said.text;
  return { code: said.blocked ? 1 : 0, out, line: oneLine(said.line) };
}

const isHelp = (word: string): boolean => word === '--help' || word === '-h';
const told = (out: string): Ended => ({ code: 0, out, line: 'larkstep: what it can do.' });

/** Up to `--`, after which nothing is an option. */
function beforeWords(args: readonly string[]): readonly string[] {
  const end = args.indexOf('--');
  return end < 0 ? args : args.slice(0, end);
}

function verbOf(name: string): Verb {
  const verb = Object.hasOwn(verbs, name) ? verbs[name] : undefined;
  if (verb) return verb;
  const known = Object.keys(verbs);
  const meant = name === '' ? null : nearest(name, known);
  const hint =
    meant === null ? `say one of ${known.join(', ')};` : `there is no such verb. Did you mean ${meant}?`;
  throw new Wrong(`larkstep${name && ` ${name}`}: ${hint} larkstep help tells more.`);
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();
