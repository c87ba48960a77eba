'use client';

import { useEffect } from 'react';

/** Keeps the screen lit while the music plays, where the browser can; it takes the lock away by itself in the background. */
export function useAwake(playing: boolean): void {
  useEffect(() => {
    if (!playing || !('wakeLock' in navigator)) return;
    const lock = navigator.wakeLock.request('screen').catch(() => null);
    return () => void lock.then((held) => held?.release());
  }, [playing]);
}
