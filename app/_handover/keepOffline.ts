'use client';

import { useEffect, useState } from 'react';

/**
 * Keeps this page on the phone, so that it opens without a network: 'kept' once it is, 'not kept' where the browser has no
 * way to (private windows, plain http). `closed`: the right to it has ended, and what was kept is dropped.
 */
export function useKeptOffline(closed: boolean): 'keeping' | 'kept' | 'not kept' {
  const [state, setState] = useState<'keeping' | 'kept' | 'not kept'>('keeping');
  useEffect(() => {
    const container = navigator.serviceWorker;
    if (!container) {
      setState('not kept');
      return;
    }
    const page = location.pathname + location.search;
    const onMessage = ({ data }: MessageEvent<{ kept?: boolean }>) => {
      if (data.kept !== undefined) setState(data.kept ? 'kept' : 'not kept');
    };
    container.addEventListener('message', onMessage);
    void (async () => {
      try {
        await container.register('/sw.js');
        const worker = (await container.ready).active;
        worker?.postMessage(closed ? { forget: page } : { keep: { page, files: filesOfThisPage() } });
      } catch {
        setState('not kept');
      }
    })();
    return () => container.removeEventListener('message', onMessage);
  }, [closed]);
  return state;
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
