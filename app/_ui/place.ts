'use client';

import { useEffect, useSyncExternalStore } from 'react';

/** The place of a page that somebody is led to stands in its address after `#`, until they are there. */
const listeners = new Set<() => void>();

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  window.addEventListener('hashchange', listener);
  return () => {
    listeners.delete(listener);
    window.removeEventListener('hashchange', listener);
  };
}

const read = (): string => decodeURIComponent(window.location.hash.slice(1));

/** '' where nobody is led anywhere. */
export const usePlace = (): string => useSyncExternalStore(subscribe, read, () => '');

/** Leads to a place of the page that is open. */
export function leadTo(place: string): void {
  // In place of this address: the way back leads to the page before, not to another place of this one.
  window.history.replaceState(window.history.state, '', `#${encodeURIComponent(place)}`);
  for (const listener of listeners) listener();
}

/** They are there: pressed again, the same way leads there again. */
export function arrived(): void {
  const { pathname, search } = window.location;
  window.history.replaceState(window.history.state, '', pathname + search);
  for (const listener of listeners) listener();
}

/** Ms after which a place that has not come is not waited for any more. */
const PATIENCE = 15_000;

/** Gives the focus to what settles the place, else to the element of its name, as soon as it is on the page. */
export function useLeading(): void {
  const place = usePlace();
  useEffect(() => {
    if (place === '') return;
    const look = () => {
      // Enter does what is owed, where one tap does.
      const does = document.querySelector<HTMLElement>(`[data-does="${CSS.escape(place)}"]`);
      const element = does ?? document.getElementById(place);
      if (!element) return false;
      if (!element.matches('a, button, input, select, textarea, [tabindex]')) element.tabIndex = -1;
      element.focus({ preventScroll: true });
      const isCalm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
      element.scrollIntoView({ block: 'center', behavior: isCalm ? 'auto' : 'smooth' });
      arrived();
      return true;
    };
    if (look()) return;
    const observer = new MutationObserver(() => look() && stop());
    const timer = setTimeout(() => {
      stop();
      arrived();
    }, PATIENCE);
    const stop = () => {
      observer.disconnect();
      clearTimeout(timer);
    };
    observer.observe(document.body, { childList: true, subtree: true });
    return stop;
  }, [place]);
}
