'use client';

import { useSyncExternalStore } from 'react';

/** Whether the whole screen is drawn as a mirror shows it; as long as the page lives. */
let mirrored = false;
const listeners = new Set<() => void>();

function set(yes: boolean): void {
  mirrored = yes;
  for (const listener of listeners) listener();
}

const subscribe = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

/** For dancers who face the studio's mirror, and read the phone behind them in it. */
export const useMirrored = (): [boolean, (yes: boolean) => void] => [
  useSyncExternalStore(
    subscribe,
    () => mirrored,
    () => false,
  ),
  set,
];
