import { useEffect, useState } from 'react';
import { flushSync } from 'react-dom';
import { whenIdle } from '../_ui/whenIdle.ts';

/** Rows that fill a tall window, and how many are added to them at a time. */
const FIRST = 8;
const STEP = 2;

/** How many of so many rows are drawn: at first what fills the window, so that it is there at once; the others as there is time. */
export function useShown(all: number): number {
  const [shown, setShown] = useState(FIRST);
  useEffect(() => {
    if (shown < all) return whenIdle(() => setShown(shown + STEP));
  }, [shown, all]);
  // A paper is taken of the whole, and at once.
  useEffect(() => {
    const print = () => flushSync(() => setShown(all));
    window.addEventListener('beforeprint', print);
    return () => window.removeEventListener('beforeprint', print);
  }, [all]);
  return shown;
}
