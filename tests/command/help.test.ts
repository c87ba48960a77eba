import { describe, expect, it } from 'vitest';
import { nearest } from '../../server/command/nearest.ts';
import { parsed } from '../../server/command/parse.ts';
import { run, verbs } from '../../server/command/run.ts';

/** Every verb says what it does, what may be given with it and an example; what is mistyped is met with the name that was meant. */
const names = Object.keys(verbs);

describe.each(names)('%s', (name) => {
  const verb = verbs[name]!;

  it('has help of its own, however it is asked for', async () => {
    const asked = [
      ['help', name],
      [name, '--help'],
      [name, '-h'],
      ['--help', name],
      // Also beside what is wrong, or not yet whole.
      [name, 'a', 'b', 'c', '--out', '--help'],
    ];
    const [first, ...others] = await Promise.all(asked.map((args) => run(args)));
    expect(first!.code).toBe(0);
    for (const other of others) expect(other).toEqual(first);
    expect(first!.out).toContain(verb.does);
    for (const [option, { value, does, usual }] of Object.entries(verb.options ?? {})) {
      const line = first!.out.split('\n').find((one) => one.startsWith(`  --${option} `))!;
      for (const part of [value, does, usual]) expect(line).toContain(part ?? '');
    }
    expect(first!.out).toContain(`larkstep ${verb.example}`);
  });

  it('takes its own example, and an option that lacks its value, is given twice or is not known with 2', async () => {
    const [said, ...args] = verb.example.match(/"[^"]*"|\S+/g)!.map((word) => word.replaceAll('"', ''));
    expect(said).toBe(name);
    expect(parsed(name, verb, args).words).toHaveLength(verb.words);
    const needed = Object.entries(verb.options ?? {}).filter(([, option]) => option.needed);
    for (const [option] of needed) expect(args).toContain(`--${option}`);

    for (const [option, { value }] of Object.entries(verb.options ?? {})) {
      const wrongs: [string[], string][] =
        value === undefined
          ? [[[`--${option}=yes`], `--${option} takes no value`]]
          : [
              [[`--${option}`], `--${option} lacks its value`],
              [[`--${option}`, '--json'], `--${option} lacks its value`],
              [[`--${option}=1`, `--${option}`, '1'], `--${option} is given twice`],
            ];
      wrongs.push([[`--${option}x`], `there is no option --${option}x. Did you mean --${option}?`]);
      for (const [wrong, says] of wrongs) {
        const { code, out, line } = await run([name, 'a', ...wrong]);
        expect({ code, out }).toEqual({ code: 2, out: '' });
        expect(line).toContain(`larkstep ${name}: ${says}`);
      }
    }
  });
});

it('help alone tells of every verb', async () => {
  for (const word of ['help', '--help', '-h']) {
    const { code, out } = await run([word]);
    expect(code).toBe(0);
    for (const name of names) expect(out).toContain(`larkstep ${name} ${verbs[name]!.use}`);
  }
});

it('a name that was mistyped is known, one that is another word is not', async () => {
  expect(
    ['lisen', 'Render', 'chekc', 'backups', 'share', 'whistle', 'toString', 'x'].map((word) =>
      nearest(word, names),
    ),
  ).toEqual(['listen', 'render', 'check', 'backup', 'shape', null, null, null]);
  for (const args of [
    ['lisen', 'a.wav'],
    ['help', 'lisen'],
  ]) {
    expect(await run(args)).toEqual({
      code: 2,
      out: '',
      line: 'larkstep lisen: there is no such verb. Did you mean listen? larkstep help tells more.',
    });
  }
});

it('after -- nothing is an option', () => {
  expect(parsed('listen', verbs.listen!, ['--json', '--', '--help'])).toEqual({
    words: ['--help'],
    given: { json: true },
  });
});
