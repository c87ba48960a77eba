import type { DanceHold, Position } from '../dance/move.ts';
import type { Stance } from '../dance/stance.ts';

const HOLDS: Record<DanceHold, string> = {
  closed: 'in closed hold',
  open: 'in open hold',
  'two hands': 'with both hands',
  'one hand': 'with one hand',
  apart: 'apart',
  'side by side': 'side by side',
  shadow: 'in shadow hold',
};
const POSITIONS: Record<Position, string> = {
  facing: 'face to face',
  promenade: 'in promenade',
  'counter promenade': 'in counter promenade',
  'side by side': 'side by side',
  shadow: 'one behind the other',
};

/** "in closed hold", "in promenade": what differs from the other stance, the hold first. */
export function standWords(stance: Stance, other: Stance): string {
  const hold = stance.hold !== null && stance.hold !== other.hold ? HOLDS[stance.hold] : '';
  const place =
    stance.position !== null && stance.position !== other.position ? POSITIONS[stance.position] : '';
  return [...new Set([hold, place])].filter(Boolean).join(', ');
}
