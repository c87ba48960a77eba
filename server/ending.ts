/** What stands in the way is said in one line; whoever runs the process sees that it failed, and may start it again. */
export function endWith(sentence: string): never {
  process.stderr.write(`${sentence}\n`);
  process.exit(1);
}
