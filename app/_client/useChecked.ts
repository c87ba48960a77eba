import { useEffect, useState } from 'react';
import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import { type Checked, checkSoon } from './checking.ts';

/**
 * What the checks say of a board that is not the present one; null until they have, and without a board. While it changes, what
 * was said last.
 * @param rest ms for which the board has to stay as it is before it is looked at
 */
export function useChecked(board: Board | null, today: Day, rest = 0): Checked | null {
  const [checked, setChecked] = useState<Checked | null>(null);
  useEffect(() => {
    if (!board) return setChecked(null);
    let stop = () => {};
    const timer = setTimeout(() => {
      stop = checkSoon(board, today, (said) => said && setChecked(said));
    }, rest);
    return () => {
      clearTimeout(timer);
      stop();
    };
  }, [board, today, rest]);
  return board ? checked : null;
}
