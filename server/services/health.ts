import { statfs } from 'node:fs/promises';
import type { Services } from '../../lib/access/services.ts';
import type { Nodes } from '../../lib/store/nodes.ts';
import type { Store } from '../../lib/store/store.ts';

/** What one part of the server says of itself; the words are for anybody, and tell nothing of what is kept. */
export interface Part {
  works: boolean;
  word: string;
}
export type Probe = () => Promise<Part>;

const FINE: Part = { works: true, word: 'fine' };
/** A probe writes: so not at every asking, whoever asks. */
const KEPT_MS = 1000;
const LONGEST_MS = 5000;
/** Some of the largest recordings, and room for the store to tidy up. */
const LEAST_FREE_BYTES = 200_000_000;
const PROBE = 'probe';

/** Asks all parts; healthy is what works in every part. */
export function healthService(probes: Record<string, Probe>): Services['health'] {
  let kept: { at: number; health: ReturnType<Services['health']> } | null = null;
  const ask = async () => {
    const asked = Object.entries(probes).map(async ([name, probe]) => [name, await inTime(probe)] as const);
    const parts = await Promise.all(asked);
    return {
      healthy: parts.every(([, { works }]) => works),
      parts: Object.fromEntries(parts.map(([name, { word }]) => [name, word])),
    };
  };
  return () => {
    const now = performance.now();
    if (kept === null || now - kept.at > KEPT_MS) kept = { at: now, health: ask() };
    return kept.health;
  };
}

/** Only a write that is durable shows that something can be stored. */
export function storeProbe(store: Pick<Store, 'settings'>, clock: () => Date): Probe {
  return async () => {
    await store.settings.set(PROBE, JSON.stringify(clock().toISOString()));
    return FINE;
  };
}

/** Without the line edits still reach other nodes, some seconds late: no reason to send people elsewhere. */
export function nodesProbe(nodes: Nodes): Probe {
  return async () => (nodes.connected ? FINE : { works: true, word: 'no line between the nodes' });
}

/** Damage is told to whoever runs the server, and to the studio's list; everything else works. */
export function boardsProbe(rooms: { readonly apart: number }): Probe {
  return async () => {
    const { apart } = rooms;
    if (apart === 0) return FINE;
    return { works: true, word: `a part of ${apart === 1 ? 'one board' : `${apart} boards`} is set apart` };
  };
}

export function diskProbe(folder: string): Probe {
  return async () => {
    const { bavail, bsize } = await statfs(folder);
    return bavail * bsize >= LEAST_FREE_BYTES ? FINE : { works: true, word: 'nearly full' };
  };
}

async function inTime(probe: Probe): Promise<Part> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<Part>((resolve) => {
    timer = setTimeout(() => resolve({ works: false, word: 'does not answer' }), LONGEST_MS);
  });
  try {
    return await Promise.race([probe(), late]);
  } catch {
    return { works: false, word: 'fails' };
  } finally {
    clearTimeout(timer);
  }
}
