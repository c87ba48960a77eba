import { useRef } from 'react';

/**
 * The same objects as last time where they say the same, so that memoised rows stay as they are while another changes.
 * Compared as JSON: a row's drawing is a few hundred bytes.
 */
export function useStable<T>(values: ReadonlyMap<string, T>): ReadonlyMap<string, T> {
  const kept = useRef(new Map<string, { text: string; value: T }>());
  const next = new Map<string, { text: string; value: T }>();
  for (const [key, value] of values) {
    const text = JSON.stringify(value);
    const before = kept.current.get(key);
    next.set(key, before?.text === text ? before : { text, value });
  }
  kept.current = next;
  return new Map([...next].map(([key, { value }]) => [key, value]));
}

/** The same object as last time while it says the same. */
export function useSame<T>(value: T): T {
  return useStable(new Map([['', value]])).get('') as T;
}
