import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { byBiDi } from './bidi.ts';
import { byPlaywright } from './chromium.ts';
import type { Driver } from './driver.ts';
import { byWebDriver } from './webdriver.ts';

export type EngineName = 'chromium' | 'firefox' | 'webkit';
export interface Engine {
  name: EngineName;
  /** Debian packages that bring it. */
  packages: string[];
  /** Why it is not here; null where it is. */
  missing(): string | null;
  start(env: Record<string, string>): Promise<Driver>;
}

const first = (...paths: (string | undefined)[]) =>
  paths.find((path) => path !== undefined && existsSync(path));
const chromium = () =>
  first(
    process.env.LARKSTEP_BROWSER,
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
  );
const firefox = () => first(process.env.LARKSTEP_FIREFOX, '/usr/bin/firefox-esr', '/usr/bin/firefox');
const webkitDriver = () => first(process.env.LARKSTEP_WEBKIT_DRIVER, '/usr/bin/WebKitWebDriver');
const lacks = (what: string, path: string | undefined) => (path ? null : `${what} is not installed`);

export const engines: readonly Engine[] = [
  {
    name: 'chromium',
    packages: ['chromium'],
    missing: () => lacks('Chromium', chromium()),
    start: (env) => byPlaywright(chromium()!, env),
  },
  {
    name: 'firefox',
    packages: ['firefox-esr'],
    missing: () => lacks('Firefox', firefox()),
    start: (env) => byBiDi(firefox()!, env),
  },
  {
    name: 'webkit',
    packages: ['webkit2gtk-driver', 'xvfb'],
    missing: () =>
      lacks('WebKitGTK’s driver', webkitDriver()) ??
      (process.env.DISPLAY || process.env.WAYLAND_DISPLAY
        ? null
        : lacks('Xvfb, for a browser that has no way without a screen,', first('/usr/bin/Xvfb'))),
    // It speaks to a window; the size of the screen is that of a desk.
    start: (env) => byWebDriver(webkitDriver()!, { browserName: 'MiniBrowser' }, env),
  },
];

/** Brings an engine by Debian's packages, as root only; says why not, where not. */
export function install({ packages, missing }: Engine): string | null {
  const why = missing();
  if (why === null) return null;
  if (process.platform !== 'linux' || process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return why;
  const apt = (...words: string[]) =>
    spawnSync('apt-get', [...words, '-qq', '-o', 'DPkg::Lock::Timeout=300'], {
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
  apt('update');
  const done = apt('install', '-y', '--no-install-recommends', ...packages);
  return missing() === null
    ? null
    : `${why}, and apt-get says: ${String(done.stderr).trim().split('\n').at(-1)}`;
}
