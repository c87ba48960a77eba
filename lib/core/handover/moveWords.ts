import type { WalkOn } from '../dance/move.ts';
import type { LaidMove } from '../dance/place.ts';

/** `underarm turn, twice`. */
export function moveWords({ move, times }: Pick<LaidMove, 'move' | 'times'>): string {
  const often = times === 1 ? '' : times === 2 ? ', twice' : `, ${times} times`;
  return `${move.name.charAt(0).toLowerCase()}${move.name.slice(1)}${often}`;
}

/** What the couple do before the first step: `walk on from the garden door, take hold`. */
export function walkOnWords(walk: WalkOn | null): string {
  const from = walk?.from ? ` from ${walk.from}` : '';
  if (walk?.how === 'in place') return 'in place, take hold';
  return `walk on${from}, take hold`;
}
