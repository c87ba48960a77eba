import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { newToken } from '../lib/access/links.ts';
import { bad, good, type Result } from '../lib/core/result.ts';
import { lockFolder } from '../lib/store/embedded/lock.ts';
import { INCOMING, openEmbeddedStore } from '../lib/store/embedded/open.ts';
import { isLater } from '../lib/store/later.ts';
import { type Nodes, noLine, noOthers } from '../lib/store/nodes.ts';
import { openPostgresStore } from '../lib/store/postgres/open.ts';
import { openRedisNodes } from '../lib/store/redis/open.ts';
import type { EmbeddedStore, SharedStore, Store } from '../lib/store/store.ts';

/** Setting that holds what nodes sign their messages with. */
const NODES_KEY = 'nodes key';

/** Where things are kept: a folder held for this server alone, or a database with room for more nodes. */
export interface Kept {
  store: Store;
  embedded: EmbeddedStore | null;
  shared: SharedStore | null;
  nodes: Nodes;
  /** For uploads on their way. */
  incoming: string;
  close(): Promise<void>;
}

export interface Places {
  folder: string;
  databaseUrl: string | null;
  redisUrl: string | null;
}

export function openKept(places: Places, onLost: (error: Error) => void): Promise<Result<Kept>> {
  const { folder, databaseUrl, redisUrl } = places;
  return databaseUrl === null ? openFolder(folder, onLost) : openDatabase(databaseUrl, redisUrl);
}

async function openFolder(folder: string, onLost: (error: Error) => void): Promise<Result<Kept>> {
  let lock: ReturnType<typeof lockFolder> = null;
  try {
    lock = lockFolder(folder);
    if (!lock)
      return bad(
        'folder taken',
        `Another Larkstep server uses the folder ${folder}: stop it, or set LARKSTEP_DATA.`,
      );
    const held = lock;
    const store = await openEmbeddedStore(folder, { onLost, serving: true });
    return good({
      store,
      embedded: store,
      shared: null,
      nodes: noOthers,
      incoming: join(folder, INCOMING),
      async close() {
        await store.close();
        held.release();
      },
    });
  } catch (error) {
    lock?.release();
    if (isLater(error)) return bad('later store', `${folder}: ${error.message}`);
    const { code } = error as NodeJS.ErrnoException;
    return code === 'SQLITE_NOTADB' || code === 'SQLITE_CORRUPT'
      ? bad(
          'store damaged',
          `The store in ${folder} is damaged (${code}): restore a backup with larkstep restore.`,
        )
      : bad(
          'folder not usable',
          `The folder ${folder} cannot be used (${code || 'no file can be made in it'}): make room in it and let it be written, or set LARKSTEP_DATA.`,
        );
  }
}

async function openDatabase(databaseUrl: string, redisUrl: string | null): Promise<Result<Kept>> {
  const opened = await openShared(databaseUrl);
  if (!opened.ok) return opened;
  const store = opened.value;
  const nodes = redisUrl === null ? noLine : openRedisNodes(redisUrl, await nodesKey(store));
  // Of this process alone: other nodes on this computer have their own.
  const incoming = await mkdtemp(join(tmpdir(), 'larkstep-incoming-'));
  return good({
    store,
    embedded: null,
    shared: store,
    nodes,
    incoming,
    async close() {
      await nodes.close();
      await store.close();
      await rm(incoming, { recursive: true, force: true });
    },
  });
}

/** Made by the first node, known to all that share the store. */
async function nodesKey({ settings }: SharedStore): Promise<string> {
  const made = newToken();
  return (await settings.setOnce(NODES_KEY, made)) ? made : ((await settings.get(NODES_KEY)) ?? made);
}

export async function openShared(databaseUrl: string): Promise<Result<SharedStore>> {
  try {
    return good(await openPostgresStore(databaseUrl));
  } catch (error) {
    return bad('database not usable', reasonOf(error));
  }
}

/** The address is never repeated, because it may hold a password. */
export function reasonOf(error: unknown): string {
  if (isLater(error)) return error.message;
  const { code = '', message } = error as { code?: string; message: string };
  const why = code || message.split('\n')[0];
  return `The database that DATABASE_URL names cannot be used (${why}): start it, or correct DATABASE_URL.`;
}
