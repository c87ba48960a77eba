import { parseArgs } from 'node:util';
import { usageOf } from './help.ts';
import { nearest } from './nearest.ts';
import { common, type Given, type Option, type Verb } from './verb.ts';
import { Wrong } from './wrong.ts';

/** What stands after a verb: its words and options, as POSIX has them (IEEE 1003.1, 12.2), long ones as GNU has them. */
export function parsed(name: string, verb: Verb, args: string[]): { words: string[]; given: Given } {
  const known: Record<string, Option> = { ...verb.options, ...common };
  const wrong = (words: string) => new Wrong(`larkstep ${name}: ${words}`);
  const options = Object.fromEntries(
    Object.entries(known).map(([option, { value }]) => [
      option,
      { type: value === undefined ? ('boolean' as const) : ('string' as const) },
    ]),
  );
  const words: string[] = [];
  const given: Given = {};
  for (const token of parseArgs({ args, options, strict: false, tokens: true }).tokens) {
    if (token.kind === 'positional') words.push(token.value);
    if (token.kind !== 'option') continue;
    const { rawName, value, inlineValue } = token;
    const option =
      rawName.startsWith('--') && Object.hasOwn(known, token.name) ? known[token.name] : undefined;
    if (!option) throw wrong(unknown(args[token.index]!, Object.keys(known), name));
    if (option.value === undefined) {
      if (value !== undefined) throw wrong(`${rawName} takes no value, but has "${value}".`);
      given[token.name] = true;
      continue;
    }
    const use = `${rawName} ${option.value}`;
    if (value === undefined) throw wrong(`${rawName} lacks its value: ${use}.`);
    if (!inlineValue && /^-\D/.test(value)) {
      throw wrong(
        `${rawName} lacks its value: ${use}. One that begins with a dash is written ${rawName}=${value}.`,
      );
    }
    if (given[token.name] !== undefined) throw wrong(`${rawName} is given twice; say it once.`);
    given[token.name] = value;
  }
  if (words.length < verb.words || (!verb.more && words.length > verb.words)) {
    throw new Wrong(`use: larkstep ${name} ${usageOf(verb)}`);
  }
  return { words, given };
}

function unknown(written: string, known: string[], verb: string): string {
  const name = written.replace(/=.*/s, '');
  const meant = nearest(name.replace(/^-+/, ''), known);
  const hint = meant === null ? '' : ` Did you mean --${meant}?`;
  const file = name.startsWith('--') ? '' : ' A file whose name begins with a dash stands after --.';
  return `there is no option ${name}.${hint} larkstep ${verb} --help shows all.${file}`;
}
