import type { AreaName } from '@/lib/core/areas/board.ts';
import type { Me } from './boardState.ts';
import type { ChangeTo } from './gate.ts';

/** What this device itself has changed of the plan and the lessons since it was last told what is new: that is no news to it. */
export type OwnChange = { [N in 'plan' | 'lessons']: { area: N; changes: ChangeTo<N>[] } }[
  | 'plan'
  | 'lessons'];

/** Letters of one gesture that is noted, and of all: what is longer is a whole song, and a device keeps some MB of everything. */
const LONGEST = 40_000;
const MOST = 200_000;

type Whose = Pick<Me, 'board' | 'membership'>;
const ownKey = ({ board, membership }: Whose): string => `larkstep.own/${board}/${membership}`;
/** Where it is kept what somebody had seen of a board. */
export const seenKey = ({ board, membership }: Whose): string => `larkstep.seen/${board}/${membership}`;

/** Notes it where this device tells news of the board at all; a gesture a line. */
export function noteOwn<N extends AreaName>(me: Whose, area: N, changes: readonly ChangeTo<N>[]): void {
  if (area !== 'plan' && area !== 'lessons') return;
  try {
    if (localStorage.getItem(seenKey(me)) === null) return;
    const noted = JSON.stringify({ area, changes });
    if (noted.length > LONGEST) return;
    const all = `${localStorage.getItem(ownKey(me)) ?? ''}${noted}\n`;
    const kept = all.length <= MOST ? all : all.slice(all.indexOf('\n', all.length - MOST) + 1);
    localStorage.setItem(ownKey(me), kept);
  } catch {
    // A device that keeps nothing tells no news either.
  }
}

export function readOwn(me: Whose): OwnChange[] {
  try {
    const lines = (localStorage.getItem(ownKey(me)) ?? '').split('\n').filter((line) => line !== '');
    return lines.map((line) => JSON.parse(line) as OwnChange);
  } catch {
    return [];
  }
}

export function forgetOwn(me: Whose): void {
  try {
    localStorage.removeItem(ownKey(me));
  } catch {
    // Nothing was noted.
  }
}

/** Of a membership that is no more, nothing stays. */
export function forgetSeen(me: Whose): void {
  forgetOwn(me);
  try {
    localStorage.removeItem(seenKey(me));
  } catch {
    // Nothing was kept.
  }
}
