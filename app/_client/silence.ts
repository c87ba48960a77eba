import { useEffect } from 'react';

/** How what plays from page to page is stopped; null while nothing can play. */
let stop: (() => void) | null = null;

/** Told by what plays: a page without the bar has nothing of it to load. */
export function stopsBy(how: () => void): void {
  stop = how;
}

/** For a page without the bar: nothing goes on that could not be stopped there. */
export function useSilence(silent: boolean): void {
  useEffect(() => {
    if (silent) stop?.();
  }, [silent]);
}
