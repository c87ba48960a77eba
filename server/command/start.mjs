/** Starts the command from its sources, which need a loader among the packages: without it there is no answer, and that is 2. */
try {
  await import('tsx');
} catch (error) {
  const isMissing = error.code === 'ERR_MODULE_NOT_FOUND';
  const why = isMissing
    ? 'its packages are not installed. Run npm install in its folder first.'
    : error.message;
  process.stderr.write(`larkstep: ${why}\n`);
  process.exit(2);
}
await import('./main.ts');
