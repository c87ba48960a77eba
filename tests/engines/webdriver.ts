import { type ChildProcess, spawn } from 'node:child_process';
import { type Driver, TAKE_COMPLAINTS, WATCH } from './driver.ts';
import { freePort } from './ports.ts';
import { ANSWER } from './within.ts';

/** The key under which an element's id travels (W3C WebDriver, 12.3.1). */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';
/** Milliseconds after which a driver that has not kept to its own limits is given up on. */
const LOST = ANSWER + 10_000;

/**
 * A browser by the W3C's WebDriver (classic), for engines that have a program for it.
 * @param program the driver, started on a port of its own
 * @param wanted capabilities that pick the browser
 * @throws Error with what the driver says, where it says no
 */
export async function byWebDriver(
  program: string,
  wanted: Record<string, unknown>,
  env: Record<string, string>,
): Promise<Driver> {
  const port = await freePort();
  const child = spawn(program, [`--port=${port}`], { stdio: 'ignore', env: { ...process.env, ...env } });
  process.once('exit', () => child.kill());
  const ask = asking(`http://127.0.0.1:${port}`);
  await answering(ask, child);
  const { sessionId, capabilities } = (await ask('POST', '/session', {
    capabilities: { alwaysMatch: wanted },
  })) as { sessionId: string; capabilities: { browserName: string; browserVersion: string } };
  const at = (path: string) => `/session/${sessionId}${path}`;
  await ask('POST', at('/timeouts'), { script: ANSWER, pageLoad: ANSWER });
  await ask('POST', at('/window/rect'), { width: 1280, height: 900 });

  const run = async (source: string, given: readonly unknown[]) => {
    const script = `const done = arguments[arguments.length - 1];
      const given = [...arguments].slice(0, -1);
      Promise.resolve().then(() => (${source})(...given)).then((value) => done({ value }), (error) => done({ error: String(error) }));`;
    const answer = (await ask('POST', at('/execute/async'), { script, args: given })) as {
      value?: unknown;
      error?: string;
    };
    if (answer.error !== undefined) throw new Error(answer.error);
    return answer.value;
  };
  const actions = (kind: object) => ask('POST', at('/actions'), { actions: [kind] });
  return {
    name: `${capabilities.browserName} ${capabilities.browserVersion}`,
    async open(address) {
      await ask('POST', at('/url'), { url: address });
      await run(`() => {${WATCH}}`, []);
    },
    run,
    press: async (x, y) => {
      await actions({
        type: 'pointer',
        id: 'hand',
        parameters: { pointerType: 'mouse' },
        actions: [
          { type: 'pointerMove', duration: 0, x: Math.round(x), y: Math.round(y) },
          { type: 'pointerDown', button: 0 },
          { type: 'pointerUp', button: 0 },
        ],
      });
    },
    type: async (keys) => {
      const presses = [...keys].flatMap((value) => [
        { type: 'keyDown', value },
        { type: 'keyUp', value },
      ]);
      await actions({ type: 'key', id: 'keys', actions: presses });
    },
    choose: async (selector, path) => {
      const found = (await ask('POST', at('/element'), { using: 'css selector', value: selector })) as Record<
        string,
        string
      >;
      await ask('POST', at(`/element/${found[ELEMENT]}/value`), { text: path });
    },
    complaints: async () => (await run(TAKE_COMPLAINTS, [])) as string[],
    end: async () => {
      await ask('DELETE', at('')).catch(() => undefined);
      child.kill();
    },
  };
}

type Ask = (method: string, path: string, body?: unknown) => Promise<unknown>;

const asking =
  (address: string): Ask =>
  async (method, path, body) => {
    const answer = await fetch(`${address}${path}`, {
      method,
      signal: AbortSignal.timeout(LOST),
      ...(body === undefined
        ? {}
        : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }),
    });
    const { value } = (await answer.json()) as { value: { error?: string; message?: string } | null };
    if (!answer.ok) throw new Error(`${value?.error}: ${value?.message?.split('\n')[0]}`);
    return value;
  };

/** Waits until the driver takes questions; it says nothing when it does. */
async function answering(ask: Ask, child: ChildProcess): Promise<void> {
  for (let tries = 0; tries < 200; tries++) {
    if (child.exitCode !== null) throw new Error(`the driver ended with ${child.exitCode}`);
    const there = await ask('GET', '/status').then(
      () => true,
      () => false,
    );
    if (there) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error('the driver does not answer');
}
