'use client';

import { useEffect } from 'react';

/**
 * Keeps the screen lit while the music plays, where the browser can. It takes the lock away in the background, so that is asked
 * for again when the page is back.
 */
export function useAwake(playing: boolean): void {
  useEffect(() => {
    if (!playing || !('wakeLock' in navigator)) return;
    let held: Promise<WakeLockSentinel | null> | null = null;
    const hold = () => {
      if (document.visibilityState === 'visible')
        held = navigator.wakeLock.request('screen').catch(() => null);
    };
    hold();
    document.addEventListener('visibilitychange', hold);
    return () => {
      document.removeEventListener('visibilitychange', hold);
      void held?.then((lock) => lock?.release());
    };
  }, [playing]);
}
