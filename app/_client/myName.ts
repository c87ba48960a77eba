import type { Me } from './boardState.ts';

const keyOf = ({ board, role }: Me): string => `larkstep.name/${board}/${role}`;
/** For a device that keeps nothing: as long as the page lives. */
const held = new Map<string, string>();

/** The name this person goes by on this board: the one they gave on this device, else their account's; empty when none is known. */
export function myName(me: Me): string {
  const key = keyOf(me);
  try {
    return held.get(key) || localStorage.getItem(key) || me.name;
  } catch {
    return me.name;
  }
}

export function keepMyName(me: Me, name: string): void {
  const key = keyOf(me);
  held.set(key, name);
  try {
    localStorage.setItem(key, name);
  } catch {
    // A private window: the page remembers.
  }
}
