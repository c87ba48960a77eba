import { mutants } from '../core/checks/mutants.ts';

/** `npm run bench:mutation`: spoils each rule in turn and says which row of the rules' own table notices, and how. */
const all = mutants();
for (const { rule, spoilt, failures } of all) {
  process.stdout.write(
    `${failures.length > 0 ? 'killed  ' : 'SURVIVED'}  ${rule}, ${spoilt}: ${failures.join('; ') || 'nobody notices'}\n`,
  );
}
const killed = (these: typeof all) => these.filter(({ failures }) => failures.length > 0).length;
const off = all.filter(({ spoilt }) => spoilt === 'switched off');
process.stdout.write(
  `switched off: ${killed(off)} of ${off.length} killed; all ways: ${killed(all)} of ${all.length} killed\n`,
);
process.exitCode = killed(all) < all.length ? 1 : 0;
