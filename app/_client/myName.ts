import type { Me } from './boardClient.ts';

const keyOf = ({ board, role }: Me): string => `larkstep.name/${board}/${role}`;

/** The name this person goes by on this board: the one they gave on this device, else their account's; empty when none is known. */
export const myName = (me: Me): string => localStorage.getItem(keyOf(me)) || me.name;

export const keepMyName = (me: Me, name: string): void => localStorage.setItem(keyOf(me), name);
