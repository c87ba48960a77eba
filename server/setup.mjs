// Makes a checkout ready: before `npm start` packages and build, before `npm test` (--tests) a browser besides. Plain node
// without packages, because it is what installs them. Does only what is missing or older than its sources.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress } from 'node:zlib';

const root = join(import.meta.dirname, '..');
const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
const stamp = join(root, 'build', 'stamp');
const SOURCES = [
  'app',
  'lib',
  'public',
  'server',
  'next.config.js',
  'package-lock.json',
  'package.json',
  'tsconfig.json',
];
const BROWSERS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** Says what is done and how long it took; standard output is left to the server. */
function step(words, work) {
  const began = Date.now();
  process.stderr.write(`${words} ...\n`);
  work();
  process.stderr.write(`${words}: ${((Date.now() - began) / 1000).toFixed(1)} s\n`);
}

const run = (command, ...words) =>
  execFileSync(command, words, {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
    env: { ...process.env, NEXT_TELEMETRY_DISABLED: '1' },
  });

function installPackages() {
  const installed = join(root, 'node_modules', '.package-lock.json');
  const lock = join(root, 'package-lock.json');
  if (existsSync(installed) && statSync(installed).mtimeMs >= statSync(lock).mtimeMs) return;
  step('Installing packages', () => run(npm, 'ci', '--include=dev', '--no-audit', '--no-fund'));
}

function filesUnder(path) {
  if (!existsSync(path)) return [];
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesUnder(join(path, name)));
}

/** A digest over all that goes into the build. */
function sourceDigest() {
  const hash = createHash('sha256').update(process.version);
  for (const file of SOURCES.flatMap((name) => filesUnder(join(root, name))))
    hash.update(`\0${file.slice(root.length)}\0`).update(readFileSync(file));
  return hash.digest('hex');
}

/**
 * Tells the browser's engine to compile each function of the pages' scripts while they are fetched, in a thread of its own, and
 * not when it is first called, which holds the page. Source: v8.dev/blog/explicit-compile-hints. Other engines read a comment.
 */
function hintScripts() {
  const hint = '//# allFunctionsCalledOnLoad\n';
  for (const file of filesUnder(join(root, '.next', 'static', 'chunks')).filter((name) =>
    name.endsWith('.js'),
  )) {
    const script = readFileSync(file, 'utf8');
    if (!script.startsWith(hint)) writeFileSync(file, hint + script);
  }
}

/** Packs scripts and styles as small as it goes, once, so that no browser waits for it (server/packed.ts). */
async function packFiles() {
  const pack = promisify(brotliCompress);
  const files = filesUnder(join(root, '.next', 'static')).filter((name) => /\.(js|css)$/.test(name));
  await Promise.all(files.map(async (file) => writeFileSync(`${file}.br`, await pack(readFileSync(file)))));
}

async function build() {
  const digest = sourceDigest();
  const isFresh = existsSync(join(root, '.next', 'BUILD_ID')) && existsSync(stamp);
  if (isFresh && readFileSync(stamp, 'utf8') === digest) return;
  step('Building the pages', () =>
    run(process.execPath, join('node_modules', 'next', 'dist', 'bin', 'next'), 'build'),
  );
  hintScripts();
  await packFiles();
  const { buildSync } = await import('esbuild');
  step('Building the server', () =>
    buildSync({
      absWorkingDir: root,
      entryPoints: {
        server: 'server/main.ts',
        worker: 'lib/store/embedded/worker.ts',
        papers: 'lib/export/worker.ts',
      },
      outdir: 'build',
      outExtension: { '.js': '.mjs' },
      bundle: true,
      platform: 'node',
      format: 'esm',
      target: 'node20',
      packages: 'external',
      sourcemap: true,
    }),
  );
  mkdirSync(join(root, 'build'), { recursive: true });
  writeFileSync(stamp, digest);
}

function findBrowser() {
  if (process.env.LARKSTEP_BROWSER || BROWSERS.some((path) => existsSync(path))) return;
  try {
    // Does nothing when it has been downloaded already.
    step('Looking for a browser', () =>
      run(process.execPath, 'node_modules/@playwright/test/cli.js', 'install', 'chromium'),
    );
  } catch {
    if (process.platform !== 'linux' || process.getuid?.() !== 0)
      throw new Error('The browser tests need Chromium: please install it, or name one in LARKSTEP_BROWSER.');
    step('Installing Chromium', () => {
      run('apt-get', 'update');
      run('apt-get', 'install', '-y', '--no-install-recommends', '-o', 'DPkg::Lock::Timeout=300', 'chromium');
    });
  }
}

try {
  installPackages();
  await build();
  if (process.argv.includes('--tests')) findBrowser();
} catch (error) {
  process.stderr.write(`${error.message}\n`);
  process.exit(1);
}
