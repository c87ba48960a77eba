import { useEffect, useState } from 'react';
import { whenIdle } from '../_ui/whenIdle.ts';

/** Rows that fill a tall window, and how many are added to them at a time. */
const FIRST = 6;
const STEP = 2;

/** How many of so many rows are drawn: at first what fills the window, so that it is there at once; the others as there is time. */
export function useShown(all: number): number {
  const [shown, setShown] = useState(FIRST);
  useEffect(() => {
    if (shown < all) return whenIdle(() => setShown(shown + STEP));
  }, [shown, all]);
  return shown;
}
