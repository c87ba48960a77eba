import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import WebSocket from 'ws';
import { type Driver, TAKE_COMPLAINTS, WATCH } from './driver.ts';
import { ANSWER, START, within } from './within.ts';

/** A value as it travels (W3C WebDriver BiDi, 7.6.3); what goes out here is always text, JSON within. */
interface RemoteValue {
  type: string;
  value?: unknown;
  sharedId?: string;
}

/**
 * Firefox by the W3C's WebDriver BiDi, which it speaks itself: no program between. The profile is a new, empty folder.
 * @throws Error with what the browser says, where it says no
 */
export async function byBiDi(program: string, env: Record<string, string>): Promise<Driver> {
  const folder = await mkdtemp(join(tmpdir(), 'larkstep-engine-'));
  const child = spawn(
    program,
    ['--headless', '--no-remote', '--profile', folder, '--remote-debugging-port', '0', 'about:blank'],
    {
      stdio: ['ignore', 'ignore', 'pipe'],
      env: { ...process.env, MOZ_HEADLESS_WIDTH: '1280', MOZ_HEADLESS_HEIGHT: '900', ...env },
    },
  );
  process.once('exit', () => child.kill());
  const socket = new WebSocket(`${await within(START, 'the browser’s address', addressSaid(child))}/session`);
  await new Promise((resolve, reject) => {
    socket.once('open', resolve);
    socket.once('error', reject);
  });
  let last = 0;
  const waiting = new Map<number, { done: (result: never) => void; failed: (error: Error) => void }>();
  socket.on('message', (data) => {
    const said = JSON.parse(String(data)) as {
      id?: number;
      type: string;
      result?: never;
      error?: string;
      message?: string;
    };
    const who = said.id === undefined ? undefined : waiting.get(said.id);
    if (!who) return;
    waiting.delete(said.id!);
    if (said.type === 'error') who.failed(new Error(`${said.error}: ${said.message}`));
    else who.done(said.result!);
  });
  const ask = <T>(method: string, params: object): Promise<T> =>
    within(
      ANSWER,
      method,
      new Promise<T>((done, failed) => {
        const id = ++last;
        waiting.set(id, { done, failed });
        socket.send(JSON.stringify({ id, method, params }));
      }),
    );
  const { capabilities } = await ask<{ capabilities: { browserName: string; browserVersion: string } }>(
    'session.new',
    { capabilities: {} },
  );
  const { contexts } = await ask<{ contexts: { context: string }[] }>('browsingContext.getTree', {});
  const context = contexts[0]!.context;
  await ask('script.addPreloadScript', { functionDeclaration: `() => {${WATCH}}` });
  await ask('browsingContext.setViewport', { context, viewport: { width: 1280, height: 800 } });

  const call = (source: string, given: readonly unknown[]) =>
    ask<{ type: string; result: RemoteValue; exceptionDetails?: { text: string } }>('script.callFunction', {
      functionDeclaration: source,
      arguments: given.map((one) => ({ type: 'string', value: JSON.stringify(one) })),
      target: { context },
      awaitPromise: true,
      userActivation: false,
    });
  const run = async (source: string, given: readonly unknown[]) => {
    const wrapped = `async (...given) => JSON.stringify((await (${source})(...given.map((one) => JSON.parse(one)))) ?? null)`;
    const { type, result, exceptionDetails } = await call(wrapped, given);
    if (type === 'exception') throw new Error(exceptionDetails?.text);
    return JSON.parse(String(result.value)) as unknown;
  };
  const actions = (kind: object) => ask('input.performActions', { context, actions: [kind] });
  return {
    name: `${capabilities.browserName} ${capabilities.browserVersion}`,
    open: async (url) => {
      await ask('browsingContext.navigate', { context, url, wait: 'complete' });
    },
    run,
    press: async (x, y) => {
      await actions({
        type: 'pointer',
        id: 'hand',
        actions: [
          { type: 'pointerMove', x: Math.round(x), y: Math.round(y) },
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
      const { result } = await call(`(selector) => document.querySelector(JSON.parse(selector))`, [selector]);
      await ask('input.setFiles', { context, element: { sharedId: result.sharedId }, files: [path] });
    },
    complaints: async () => (await run(TAKE_COMPLAINTS, [])) as string[],
    end: async () => {
      await ask('browser.close', {}).catch(() => undefined);
      socket.close();
      child.kill();
      await rm(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
    },
  };
}

/** Where it listens, which it says among other things. */
function addressSaid(child: ChildProcess): Promise<string> {
  let words = '';
  return new Promise((resolve, reject) => {
    child.stderr!.on('data', (part) => {
      words += String(part);
      const address = /WebDriver BiDi listening on (ws:\/\/\S+)/.exec(words)?.[1];
      if (address) resolve(address);
    });
    child.once('error', reject);
    child.once('exit', () =>
      reject(new Error(`the browser ended: ${words.trim().split('\n').at(-1) ?? ''}`)),
    );
  });
}
