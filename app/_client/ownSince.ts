import type { AreaName } from '@/lib/core/areas/board.ts';
import type { Me } from './boardState.ts';
import type { ChangeTo } from './gate.ts';

/** What this device itself has changed of the plan and the lessons since it was last asked: that is no news to whoever holds it. */
export type OwnChange = { [N in 'plan' | 'lessons']: { area: N; changes: ChangeTo<N>[] } }[
  | 'plan'
  | 'lessons'];

/** Letters of one gesture that is noted; longer ones are a whole song, which is news to nobody twice. */
const LONGEST = 40_000;
/** Gestures that are noted at most. */
const MOST = 400;

const keyOf = ({ board, membership }: Me): string => `larkstep.own/${board}/${membership}`;

export function noteOwn<N extends AreaName>(me: Me, area: N, changes: readonly ChangeTo<N>[]): void {
  if (area !== 'plan' && area !== 'lessons') return;
  const noted = JSON.stringify({ area, changes });
  if (noted.length > LONGEST) return;
  try {
    const all = [...readOwn(me).map((one) => JSON.stringify(one)), noted].slice(-MOST);
    localStorage.setItem(keyOf(me), `[${all.join(',')}]`);
  } catch {
    // A device that keeps nothing tells no news either.
  }
}

export function readOwn(me: Me): OwnChange[] {
  try {
    return JSON.parse(localStorage.getItem(keyOf(me)) ?? '[]') as OwnChange[];
  } catch {
    return [];
  }
}

export function forgetOwn(me: Me): void {
  try {
    localStorage.removeItem(keyOf(me));
  } catch {
    // Nothing was noted.
  }
}
