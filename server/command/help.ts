import { common, type Option, type Verb } from './verb.ts';
import { table } from './words.ts';

const written = (name: string, { value }: Option): string => (value ? `--${name} ${value}` : `--${name}`);

/** What stands after the verb: `AUDIO [--target 3:05]`. */
export const usageOf = ({ use, options = {} }: Verb): string =>
  [
    use,
    ...Object.entries(options).map(([name, option]) =>
      option.needed ? written(name, option) : `[${written(name, option)}]`,
    ),
  ].join(' ');

/** All that can be done, a verb a paragraph. */
export function usage(verbs: Readonly<Record<string, Verb>>): string {
  const lines = Object.entries(verbs).map(
    ([name, verb]) => `  larkstep ${name} ${usageOf(verb)}\n      ${verb.does}`,
  );
  return `${lines.join('\n')}\nWith --json the answer is for programs. larkstep help VERB tells more of one.`;
}

export function helpOf(name: string, verb: Verb): string {
  const options = Object.entries({ ...verb.options, ...common }).map(([option, facts]) => [
    `  ${written(option, facts)}`,
    facts.usual === undefined ? facts.does : `${facts.does} (usually ${facts.usual})`,
  ]);
  return [
    `larkstep ${name} ${usageOf(verb)}\n    ${verb.does}`,
    table(options),
    `For example:\n  larkstep ${verb.example}`,
  ].join('\n\n');
}
