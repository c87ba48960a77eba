import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { endHouse, startHouse } from '../browser/house.ts';
import type { Driver } from './driver.ts';
import { type Engine, engines, install } from './engines.ts';
import { decodedAlike, type FormatRow } from './formats.ts';
import { Person } from './person.ts';
import { ways, withoutNetwork } from './ways.ts';
import { START, within } from './within.ts';

/**
 * `npm run test:engines [-- NAME ...]`: the main ways through the board, and each kind of file, in three engines of browsers: Chromium,
 * Firefox and WebKitGTK. Two tables; ends with something else than 0 when a way fails, a file is decoded otherwise than in node, or, with
 * LARKSTEP_ENGINES=required, an engine is not to be had. One that is missing is installed where that can be done; else it is said.
 */
interface Told {
  engine: string;
  way: string;
  /** Why not; null where it led to its end. */
  failed: string | null;
  seconds: number;
}

/** A clock, and a language, that are neither the server's nor English. */
const ENV = { TZ: 'Pacific/Auckland', LC_ALL: 'C.UTF-8', LANG: 'tr_TR.UTF-8', LANGUAGE: 'tr' };
/** The largest difference of a sample that is none: a decoder compiled to the same program rounds alike. */
const ALIKE = 1e-6;

const asked = process.argv.slice(2);
const told: Told[] = [];
const formats = new Map<string, FormatRow[]>();
const untried: string[] = [];

for (const engine of engines) {
  if (asked.length > 0 && !asked.includes(engine.name)) continue;
  const why = install(engine);
  if (why !== null) {
    untried.push(
      `${engine.name}: ${why}. What could not be tried: ${[...ways, withoutNetwork].map(({ name }) => name).join(', ')}, and all files.`,
    );
    continue;
  }
  const began = Date.now();
  await through(engine).catch((error: Error) => note(engine.name, 'start', error.message, began));
  console.log(`${engine.name}: ${((Date.now() - began) / 1000).toFixed(0)} s in all\n`);
}
report();

async function through(engine: Engine): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'larkstep-engines-'));
  const screen = engine.name === 'webkit' ? await screenFor() : null;
  const [{ house, child }, driver] = await Promise.all([
    startHouse(folder),
    within(START, 'the engine', engine.start({ ...ENV, ...screen?.env })),
  ]);
  console.log(`${driver.name}`);
  try {
    const person = new Person(driver);
    for (const way of [...ways, withoutNetwork]) {
      const start = Date.now();
      if (way === withoutNetwork) {
        await person.open(house.demo.couple);
        await person.sees({ role: 'text', name: 'saved' });
        await endHouse(child);
      }
      const problem = await way.go(person, house).then(
        () => complaintsOf(driver, way === withoutNetwork),
        async (error: Error) =>
          `${error.message}. ${(await complaintsOf(driver, false).catch(() => null)) ?? ''}`,
      );
      note(engine.name, way.name, problem, start);
    }
    const start = Date.now();
    const rows = await decodedAlike(driver);
    formats.set(engine.name, rows);
    const other = rows.filter(
      ({ problem, longer, apart }) => problem !== null || longer !== 0 || apart > ALIKE,
    );
    note(
      engine.name,
      'all files alike',
      other.length > 0 ? other.map(({ file }) => file).join(', ') : null,
      start,
    );
  } finally {
    await driver.end().catch(() => undefined);
    if (child.exitCode === null) await endHouse(child);
    screen?.end();
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}

/** A way that leads to its end while the page complains is not whole. Without a network each try to reach it is complained of. */
async function complaintsOf(driver: Driver, isCut: boolean): Promise<string | null> {
  const said = await driver.complaints();
  return isCut || said.length === 0 ? null : `the page complains: ${said.join('; ')}`;
}

function note(engine: string, way: string, failed: string | null, start: number): void {
  const seconds = (Date.now() - start) / 1000;
  told.push({ engine, way, failed, seconds });
  console.log(
    `  ${failed === null ? 'ok    ' : 'FAILED'} ${way.padEnd(26)} ${seconds.toFixed(1)} s${failed === null ? '' : `  ${failed}`}`,
  );
}

/** A screen that nobody sees, where there is none. */
async function screenFor(): Promise<{ env: Record<string, string>; end(): void } | null> {
  if (process.env.DISPLAY || process.env.WAYLAND_DISPLAY) return null;
  const child = spawn('Xvfb', ['-displayfd', '1', '-screen', '0', '1280x1024x24', '-nolisten', 'tcp'], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  process.once('exit', () => child.kill());
  const number = await new Promise<string>((resolve, reject) => {
    child.stdout.once('data', (data) => resolve(String(data).trim()));
    child.once('error', reject);
    child.once('exit', (code) => reject(new Error(`Xvfb ended with ${code}`)));
  });
  return { env: { DISPLAY: `:${number}` }, end: () => void child.kill() };
}

function report(): void {
  const names = [...new Set(told.map(({ engine }) => engine))];
  const line = (cells: string[]) => console.log(`| ${cells.join(' | ')} |`);
  const head = (cells: string[]) => {
    line(cells);
    line(cells.map(() => '---'));
  };
  head(['way', ...names]);
  for (const way of new Set(told.map((each) => each.way)))
    line([
      way,
      ...names.map((name) => {
        const one = told.find((each) => each.way === way && each.engine === name);
        return one ? `${one.failed === null ? 'ok' : 'FAILED'}, ${one.seconds.toFixed(1)} s` : 'not tried';
      }),
    ]);
  console.log('');
  head(['file', 'samples in node', ...names.map((name) => `${name}: samples more, largest difference, ms`)]);
  for (const { file, samples } of [...formats.values()][0] ?? [])
    line([
      file,
      String(samples),
      ...names.map((name) => {
        const row = formats.get(name)?.find((each) => each.file === file);
        if (!row) return 'not tried';
        return (
          row.problem ??
          `${row.longer}, ${row.apart === 0 ? '0' : row.apart.toExponential(1)}, ${row.ms.toFixed(0)}`
        );
      }),
    ]);
  for (const one of untried) console.log(`not tried: ${one}`);
  const failed = told.filter((each) => each.failed !== null).length;
  const required = process.env.LARKSTEP_ENGINES === 'required' ? untried.length : 0;
  const counts = {
    passed: told.length - failed,
    failed: failed + required,
    skipped: untried.length - required,
  };
  mkdirSync('build/reports', { recursive: true });
  writeFileSync('build/reports/engines.json', JSON.stringify(counts));
  console.log(`engines: ${counts.passed} passed, ${counts.failed} failed, ${counts.skipped} skipped`);
  // At once: a browser that hangs would keep this from ending.
  process.exit(counts.failed === 0 && counts.passed > 0 ? 0 : 1);
}
