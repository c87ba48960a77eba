'use client';

import { useEffect, useRef } from 'react';
import type { Board } from '@/lib/core/areas/board.ts';

type Listener = (before: Board, after: Board) => void;

/** By the room in which they listen. */
const listeners = new WeakMap<object, Set<Listener>>();

/** Tells who listens that this page itself has made a change, to which board, and what alone comes of it. */
export function tellOwnChange(room: object, before: Board, after: Board): void {
  for (const listener of listeners.get(room) ?? []) listener(before, after);
}

/** Hears of each change that this very page makes by `useChanging`; what others change is none of them. */
export function useOwnChanges(room: object, listener: Listener): void {
  const latest = useRef(listener);
  latest.current = listener;
  useEffect(() => {
    const here: Listener = (before, after) => latest.current(before, after);
    const all = listeners.get(room) ?? new Set();
    listeners.set(room, all.add(here));
    return () => void all.delete(here);
  }, [room]);
}
