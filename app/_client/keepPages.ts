'use client';

import { useSyncExternalStore } from 'react';
import type { Role } from '@/lib/core/areas/people.ts';
import { atRest } from '../_ui/atRest.ts';
import type { ScreenName } from './boardPage.tsx';
import type { Me } from './boardState.ts';
import { fetchLaterParts, filesOfWorkers } from './laterParts.ts';

/** 'kept' once the page opens without a network, 'not kept' where the browser has no way to (private windows, plain http). */
export type Kept = 'keeping' | 'kept' | 'not kept';

/** What each needs where there may be no network: in a cellar studio, and on the night. */
const WANTED: Record<Role, readonly ScreenName[]> = {
  instructor: ['sheet', 'practise', 'night'],
  couple: ['home', 'sheet', 'practise', 'night'],
  dj: ['dj', 'sheet'],
  planner: ['show', 'sheet'],
  crew: ['show', 'sheet'],
};

let state: Kept = 'keeping';
/** Number of the page that is open: of one that was left, it does not matter any more whether it is kept. */
let turn = 0;
const listeners = new Set<() => void>();

/**
 * Has the service worker keep the pages of a board that its role needs, and the one that is open. `programs` brings that of a
 * screen, since a page that was never open has not yet loaded its own, nor what comes later on it.
 */
export async function keepPages(
  me: Me,
  screen: ScreenName,
  programs: Record<ScreenName, { load(): Promise<unknown> }>,
): Promise<void> {
  const container = navigator.serviceWorker;
  if (!container) return say('not kept');
  // The page of links holds secrets for a moment after each is made.
  const screens = [...new Set([...WANTED[me.role], screen])].filter((each) => each !== 'links');
  const addressOf = (each: ScreenName) => `/board/${me.board}/${each}?as=${me.role}`;
  const mine = ++turn;
  say('keeping');
  const tell = (kept: Kept) => mine === turn && say(kept);
  try {
    await container.register('/sw.js', { updateViaCache: 'none' });
    const worker = (await container.ready).active;
    const pages: string[] = [];
    for (const each of screens) {
      // One at a time, while nobody writes: to run a program for the first time is a long task.
      await atRest();
      // A page is kept only with its program; without a network the worker still says what it has.
      const isHere = await programs[each].load().then(
        () => true,
        () => false,
      );
      if (isHere) pages.push(addressOf(each));
    }
    await fetchLaterParts(atRest);
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }: MessageEvent<{ kept: string[] }>) =>
      tell(data.kept.includes(addressOf(screen)) ? 'kept' : 'not kept');
    const files = [...filesOfThisPage(), ...filesOfWorkers()];
    const keep = { pages, files, membership: me.membership };
    worker?.postMessage({ keep }, [port2]);
  } catch {
    tell('not kept');
  }
}

/** Whether the page that is open will open without a network. */
export const useKept = (): Kept =>
  useSyncExternalStore(
    subscribe,
    () => state,
    () => 'keeping',
  );

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function say(kept: Kept): void {
  state = kept;
  for (const listener of listeners) listener();
}

/** Everything that this page has loaded: scripts, styles, fonts. */
function filesOfThisPage(): string[] {
  const loaded = performance.getEntriesByType('resource').map(({ name }) => name);
  const named = [
    ...document.querySelectorAll<HTMLScriptElement | HTMLLinkElement>('script[src], link[href]'),
  ].map((element) => ('src' in element ? element.src : element.href));
  return [...new Set([...loaded, ...named])].filter((address) =>
    new URL(address, location.href).pathname.startsWith('/_next/static/'),
  );
}
