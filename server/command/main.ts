import { run } from './run.ts';

/** `larkstep VERB ...`: the answer on standard output, one line on standard error, and an exit code. */
const { code, out, line } = await run(process.argv.slice(2));
if (out !== '') process.stdout.write(`${out}\n`);
process.stderr.write(`${line}\n`);
process.exitCode = code;
