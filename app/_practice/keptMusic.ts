import type { Music } from '../_client/audioWork.ts';

/** Renders already made, on this device: in the browser's cache where there is one (plain http has none), else as long as the page lives. */

/** Newest of these are kept; an edit changes often while a song is shaped, and a render is tens of MB. */
const KEPT = 2;
const memory = new Map<string, Music>();

const LEAD = 'x-lead-seconds';
const TEMPO = 'x-tempo';
const address = (key: string) => `/music/${encodeURIComponent(key)}`;

/** @param place name of the cache: carries the membership, so that it can be cleared with it */
export async function keptMusic(place: string, key: string): Promise<Music | null> {
  const held = memory.get(`${place} ${key}`);
  if (held) return held;
  if (typeof caches === 'undefined') return null;
  try {
    const cache = await caches.open(place);
    const found = await cache.match(address(key));
    if (!found) return null;
    const { headers } = found;
    return { file: await found.blob(), lead: Number(headers.get(LEAD)), tempo: Number(headers.get(TEMPO)) };
  } catch {
    return null;
  }
}

/** Whether it is kept beyond the life of the page. */
export async function keepMusic(place: string, key: string, music: Music): Promise<boolean> {
  memory.delete(`${place} ${key}`);
  memory.set(`${place} ${key}`, music);
  for (const old of [...memory.keys()].slice(0, -KEPT)) memory.delete(old);
  if (typeof caches === 'undefined') return false;
  try {
    const cache = await caches.open(place);
    const keys = await cache.keys();
    for (const old of keys.slice(0, Math.max(0, keys.length - KEPT + 1))) await cache.delete(old);
    const headers = {
      'content-type': music.file.type,
      [LEAD]: String(music.lead),
      [TEMPO]: String(music.tempo),
    };
    await cache.put(address(key), new Response(music.file, { headers }));
    return true;
  } catch {
    // No room on this device: the memory holds it as long as the page lives.
    return false;
  }
}

/** Name of the cache that holds a membership's music of a board. */
export const musicPlace = (membership: string, board: string): string => `music ${membership}/${board}`;
