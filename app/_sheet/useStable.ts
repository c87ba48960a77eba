import { useRef } from 'react';

/**
 * The same objects as last time where they say the same, so that memoised rows stay as they are while another changes.
 * @param words what an object says, as a text; the object as JSON unless given
 */
export function useStable<T>(
  values: ReadonlyMap<string, T>,
  words: (value: T) => string = JSON.stringify,
): ReadonlyMap<string, T> {
  const kept = useRef({ values, texts: new Map<string, string>(), stable: new Map<string, T>() });
  if (kept.current.values === values && kept.current.stable.size === values.size) return kept.current.stable;
  const texts = new Map<string, string>();
  const stable = new Map<string, T>();
  for (const [key, value] of values) {
    const text = words(value);
    const before = kept.current.stable.get(key);
    texts.set(key, text);
    stable.set(key, before !== undefined && kept.current.texts.get(key) === text ? before : value);
  }
  kept.current = { values, texts, stable };
  return stable;
}
