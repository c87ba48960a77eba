import { mutants } from '../core/checks/mutants.ts';
import { files, spoiltAutomata } from './spoiltAutomaton.ts';

/**
 * `npm run bench:mutation [-- rules | automaton | FILE of the automaton ...]`: spoils each rule in turn and says which row of the rules'
 * own table notices, and how; then the automaton of feet, hold and place, wherever one of its files can be spoilt, and says which of
 * what holds of it (tests/core/dance/automatonChecks.ts) notices. Ends with 1 where nobody does.
 */
const asked = process.argv.slice(2);
const isAsked = (what: string): boolean => asked.length === 0 || asked.includes(what);
let survivors = 0;

if (isAsked('rules')) {
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
  survivors += all.length - killed(all);
}

for (const file of files.filter((name) => isAsked('automaton') || isAsked(name))) {
  let [ways, killed, equal] = [0, 0, 0];
  for await (const fate of spoiltAutomata([file])) {
    ways += 1;
    killed += fate.by === null ? 0 : 1;
    equal += fate.equal ? 1 : 0;
    if (fate.by === null)
      process.stdout.write(
        `${fate.equal ? 'equal   ' : 'SURVIVED'}  ${fate.file}:${fate.line}, “${fate.was}” as “${fate.is}”: ${fate.equal || 'nobody notices'}\n`,
      );
  }
  survivors += ways - killed - equal;
  process.stdout.write(`${file}: ${killed} of ${ways} killed, ${equal} change nothing\n`);
}
process.exitCode = survivors > 0 ? 1 : 0;
