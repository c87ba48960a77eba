import { failureOf } from './failure.ts';

/** `larkstep VERB ...`: the answer on standard output, one line on standard error, and an exit code. */
const { stdout, stderr } = process;
// Programs read standard output; what a library has to say goes beside it.
console.log = console.info = console.debug = console.error;
// Until there is an answer, and where there will be none: 1 is only ever said by findings that block.
process.exitCode = 2;
process.on('uncaughtException', (error: unknown) => {
  const { name, message, stack } = Object(error) as Partial<Error>;
  stderr.write(
    `larkstep: a fault of ours, please tell us: ${name ?? 'Error'}: ${message ?? String(error)}\n`,
  );
  if (stack) stderr.write(`${stack}\n`);
  process.exit(2);
});
// Who reads no errors misses nothing else.
stderr.on('error', () => undefined);

/** On a terminal, what is being done stands in one line that the last one replaces; programs get the last one alone. */
const report = (words: string) => {
  if (stderr.isTTY) stderr.write(`\r\u001B[K${words}`);
};
/** Null when it is written, or when its reader has heard enough and gone. */
const written = (text: string): Promise<unknown> =>
  new Promise((resolve) => {
    const end = (error?: NodeJS.ErrnoException | null) => resolve(error?.code === 'EPIPE' ? null : error);
    stdout.on('error', end);
    stdout.write(text, end);
  });

const { run } = await import('./run.ts');
const { code, out, line } = await run(process.argv.slice(2), report);
if (stderr.isTTY) stderr.write('\r\u001B[K');
const failure = out === '' ? null : await written(`${out}\n`);
if (failure)
  stderr.write(`larkstep: the answer cannot be written: ${failureOf(failure) ?? String(failure)}.\n`);
else stderr.write(`${line}\n`);
process.exitCode = failure ? 2 : code;
