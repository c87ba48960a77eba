import { parseArgs } from 'node:util';
import { backupVerb } from './backup.ts';
import { checkVerb } from './check.ts';
import { compareVerb } from './compare.ts';
import { handVerb } from './hand.ts';
import { linksVerb } from './links.ts';
import { listenVerb } from './listen.ts';
import { renderVerb } from './render.ts';
import { restoreVerb } from './restore.ts';
import { scoreVerb } from './score.ts';
import { shapeVerb } from './shape.ts';
import type { Given, Verb } from './verb.ts';
import { Wrong } from './wrong.ts';

const verbs: Record<string, Verb> = {
  listen: listenVerb,
  shape: shapeVerb,
  render: renderVerb,
  compare: compareVerb,
  check: checkVerb,
  hand: handVerb,
  score: scoreVerb,
  links: linksVerb,
  backup: backupVerb,
  restore: restoreVerb,
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
    // Anything else is a fault of ours, and shows its stack.
    if (!(error instanceof Wrong)) throw error;
    return { code: 2, out: '', line: oneLine(error.message) };
  }
}

async function answer(
  [name = '', ...rest]: readonly string[],
  report: (words: string) => void,
): Promise<Ended> {
  if (name === 'help' || name === '--help')
    return { code: 0, out: usage(), line: 'larkstep: what it can do.' };
  const verb = Object.hasOwn(verbs, name) ? verbs[name] : undefined;
  if (!verb) {
    throw new Wrong(
      `larkstep${name && ` ${name}`}: say one of ${Object.keys(verbs).join(', ')}; larkstep help tells more.`,
    );
  }
  const { words, given } = parsed(name, verb, rest);
  const said = await verb.run(words, given, report);
  const out = given.json ? JSON.stringify(said.json) : said.text;
  return { code: said.blocked ? 1 : 0, out, line: oneLine(said.line) };
}

function parsed(name: string, verb: Verb, args: string[]): { words: string[]; given: Given } {
  const use = `use: larkstep ${name} ${verb.use}`;
  const options = { ...verb.options, json: { type: 'boolean' } } as const;
  try {
    const { values, positionals } = parseArgs({ args, options, allowPositionals: true });
    const few = positionals.length < verb.words;
    if (few || (!verb.more && positionals.length > verb.words)) throw new Wrong(use);
    return { words: positionals, given: values as Given };
  } catch (error) {
    if (error instanceof Wrong) throw error;
    throw new Wrong(`larkstep ${name}: ${(error as Error).message.split('.')[0]}; ${use}`);
  }
}

const oneLine = (text: string): string => text.replace(/\s+/g, ' ').trim();

function usage(): string {
  const lines = Object.entries(verbs).map(
    ([name, { use, does }]) => `  larkstep ${name} ${use}\n      ${does}`,
  );
  return `${lines.join('\n')}\nWith --json the answer is for programs.`;
}
