import { run } from './run.ts';

/** `larkstep VERB ...`: the answer on standard output, one line on standard error, and an exit code. */
const { stderr } = process;
/** On a terminal, what is being done stands in one line that the last one replaces; programs get the last one alone. */
const report = (words: string) => {
  if (stderr.isTTY) stderr.write(`\r\u001B[K${words}`);
};
const { code, out, line } = await run(process.argv.slice(2), report);
if (stderr.isTTY) stderr.write('\r\u001B[K');
if (out !== '') process.stdout.write(`${out}\n`);
stderr.write(`${line}\n`);
process.exitCode = code;
