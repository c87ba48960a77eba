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
import type { Verb } from './verb.ts';
import { Wrong } from './wrong.ts';

/** `larkstep`: exit 0 fine, 1 findings that block, 2 wrong use or input; one line on standard error either way. */
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

function usage(): string {
  const lines = Object.entries(verbs).map(
    ([name, { use, does }]) => `  larkstep ${name} ${use}\n      ${does}`,
  );
  return `${lines.join('\n')}\nWith --json the answer is for programs.`;
}

/** One line, however many the message has. */
const say = (line: string): void => {
  process.stderr.write(`${line.replace(/\s+/g, ' ').trim()}\n`);
};

async function answer(args: readonly string[]): Promise<number> {
  const [name, ...rest] = args;
  if (name === 'help' || name === '--help') {
    process.stdout.write(`${usage()}\n`);
    say('larkstep: shows what it can do.');
    return 0;
  }
  const verb = name === undefined || !Object.hasOwn(verbs, name) ? undefined : verbs[name];
  if (!verb) {
    throw new Wrong(
      `larkstep ${name ?? ''}: say one of ${Object.keys(verbs).join(', ')}; larkstep help tells more.`,
    );
  }
  const { words, given } = parsed(name!, verb, rest);
  const said = await verb.run(words, given);
  process.stdout.write(given.json ? `${JSON.stringify(said.json)}\n` : `${said.text}\n`);
  say(said.line);
  return said.blocked ? 1 : 0;
}

function parsed(name: string, verb: Verb, args: string[]) {
  const use = `use: larkstep ${name} ${verb.use}`;
  try {
    const options = { ...verb.options, json: { type: 'boolean' } } as const;
    const { values, positionals } = parseArgs({ args, options, allowPositionals: true });
    if (positionals.length !== verb.words) throw new Wrong(use);
    return { words: positionals, given: values as Record<string, string | boolean | undefined> };
  } catch (error) {
    if (error instanceof Wrong) throw error;
    throw new Wrong(`larkstep ${name}: ${(error as Error).message.split('.')[0]}; ${use}`);
  }
}

try {
  process.exitCode = await answer(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof Wrong)) throw error;
  say(error.message);
  process.exitCode = 2;
}
