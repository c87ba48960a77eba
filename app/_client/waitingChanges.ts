import type { AreaName } from '@/lib/core/areas/board.ts';
import type { ChangeTo, How } from './gate.ts';

/** A change that waits until it can be judged. */
export interface WaitingChange {
  area: AreaName;
  changes: readonly ChangeTo<AreaName>[];
  way: How['way'];
}

/** Where changes wait that a page was left with before it could judge them: for the next page of the same board and membership. */
export interface WaitingPlace {
  read(): WaitingChange[];
  write(waiting: readonly WaitingChange[]): void;
}

/** On this device; a browser that keeps nothing loses them, as it loses what is typed. */
export function waitingPlace(board: string, membership: string): WaitingPlace {
  const name = `larkstep-waiting/${board}/${membership}`;
  return {
    read() {
      try {
        return JSON.parse(localStorage.getItem(name) ?? '[]') as WaitingChange[];
      } catch {
        return [];
      }
    },
    write(waiting) {
      try {
        if (waiting.length > 0) localStorage.setItem(name, JSON.stringify(waiting));
        else localStorage.removeItem(name);
      } catch {
        // Full, or forbidden.
      }
    },
  };
}
