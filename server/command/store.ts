import { resolve } from 'node:path';
import type { Result } from '../../lib/core/result.ts';
import { lockFolder } from '../../lib/store/embedded/lock.ts';
import { openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { askServer, type ControlRequest, workOf } from '../control.ts';
import { type Environment, readEnvironment } from '../environment.ts';
import { addressOf } from '../origin.ts';
import { controlWork } from '../services/control.ts';
import { linkService } from '../services/links.ts';
import { need, Wrong } from './wrong.ts';

export function environment(): Environment {
  const read = need(readEnvironment(process.env));
  return { ...read, folder: resolve(read.folder) };
}

/** Done by the running server when there is one, else here on its store, with the lock held so that none starts meanwhile. */
export async function ask(asked: ControlRequest): Promise<string> {
  const env = environment();
  const answer = (await askServer(env.folder, asked)) ?? (await onTheStore(env, asked));
  return need(answer);
}

async function onTheStore(env: Environment, asked: ControlRequest): Promise<Result<string>> {
  const lock = held(env.folder);
  try {
    const store = await openEmbeddedStore(env.folder);
    const links = linkService(
      store,
      () => new Date(),
      () => {},
    );
    const work = controlWork(store, links, addressOf(env, env.port));
    return await workOf(work, asked).finally(() => store.close());
  } finally {
    lock.release();
  }
}

/** The folder's lock, for as long as the command works on it. */
export function held(folder: string): { release(): void } {
  const lock = lockFolder(folder);
  if (!lock) throw new Wrong(`A Larkstep server uses the folder ${folder}: stop it first.`);
  return lock;
}
