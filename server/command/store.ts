import { access } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Result } from '../../lib/core/result.ts';
import { lockFolder } from '../../lib/store/embedded/lock.ts';
import { DATABASE, openEmbeddedStore } from '../../lib/store/embedded/open.ts';
import { isLater } from '../../lib/store/later.ts';
import type { Store } from '../../lib/store/store.ts';
import { askServer, type ControlRequest, workOf } from '../control.ts';
import { type Environment, readEnvironment } from '../environment.ts';
import { openShared, reasonOf } from '../keeping.ts';
import { addressOf } from '../origin.ts';
import { newPassphrase } from '../services/account.ts';
import { controlWork, makeLink } from '../services/control.ts';
import { linkService } from '../services/links.ts';
import { about, failureOf } from './failure.ts';
import { need, Wrong } from './wrong.ts';

export function environment(): Environment {
  const read = need(readEnvironment(process.env));
  return { ...read, folder: resolve(read.folder) };
}

/** What is read from a folder must be kept there: a wrong name makes no empty one. */
export async function needBoards(folder: string): Promise<void> {
  await access(join(folder, DATABASE)).catch((error) => {
    const isMissing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    throw isMissing
      ? new Wrong(`${folder}: nothing is kept here yet; LARKSTEP_DATA names another folder.`)
      : about(folder, error);
  });
}

/** Done by the running server when there is one, else here on its store, with the lock held so that none starts meanwhile. */
export async function ask(asked: ControlRequest): Promise<string> {
  const env = environment();
  if (env.databaseUrl !== null) return need(await onTheDatabase(env, env.databaseUrl, asked));
  await needBoards(env.folder);
  const answer = (await askServer(env.folder, asked)) ?? (await onTheStore(env, asked));
  return need(answer);
}

/** As one more node: beside those that run, or without. */
async function onTheDatabase(env: Environment, url: string, asked: ControlRequest): Promise<Result<string>> {
  if (asked.verb === 'backup') throw new Error(`${asked.verb} has a way of its own`);
  const opened = await openShared(url);
  if (!opened.ok) return opened;
  const store = opened.value;
  // Nodes that run find the sessions that ended by looking.
  const work =
    asked.verb === 'passphrase'
      ? newPassphrase(store, asked.name, () => {})
      : makeLink(store, linksOf(store), addressOf(env, env.port))(asked.board, asked.role, asked.days);
  return work.finally(() => store.close());
}

/** Made here, and never ended: nobody is to be told. */
const linksOf = (store: Store) =>
  linkService(store, () => new Date(), { revoked: () => {}, changed: () => {} });

async function onTheStore(env: Environment, asked: ControlRequest): Promise<Result<string>> {
  const lock = held(env.folder);
  try {
    const store = await openEmbeddedStore(env.folder);
    const work = controlWork(store, linksOf(store), addressOf(env, env.port), () => {});
    return await workOf(work, asked).finally(() => store.close());
  } catch (error) {
    if (isLater(error)) throw new Wrong(`${env.folder}: ${error.message}`);
    // What the database says comes from another thread, as a plain error.
    const { name, message } = Object(error) as Partial<Error>;
    const said = failureOf(error) ?? (name === 'Error' ? message : undefined);
    throw said === undefined ? error : new Wrong(`${env.folder}: ${said}.`);
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

/** Work on the database itself; where it or the way to it says no, the command ends with one sentence. */
export async function withDatabase<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (isOfDisk(error)) throw error;
    if (error instanceof Error && 'code' in error) throw new Wrong(reasonOf(error));
    throw error;
  }
}

/** Where what is copied finds no room, the database is not to blame. */
const isOfDisk = (error: unknown): boolean =>
  /^(ENOSPC|EDQUOT|EFBIG|EIO|SQLITE_\w+)$/.test(String((error as NodeJS.ErrnoException).code));
