import type { Move } from '../move.ts';
import { stepsOf } from '../stepping.ts';
import { type DanceStyle, figure, fromMemory } from './figures.ts';

const hustle: DanceStyle = { dance: 'hustle', metre: 4, level: 'beat', hold: 'open', leastSeconds: 0.45 };
const rhythm = '1 2 and 3, 1 2 and 3';
const half = [1, 0.5, 0.5, 1];
const counts = [...half, ...half];
/** Together, replace, apart, replace: each towards and away from the other, twice. */
const lead = ['small forward', 'replace', 'rock back', 'replace'] as const;
const follow = ['small back', 'replace', 'rock forward', 'replace'] as const;
const both = {
  foot: 'left',
  rhythm: counts,
  ways: [...lead, ...lead],
  followWays: [...follow, ...follow],
} as const;

export const hustleFigures: Move[] = [
  figure(hustle, {
    id: 'hustle-basic',
    name: 'Basic',
    counts: 6,
    basic: true,
    rhythm,
    steps: stepsOf({ ...both, turns: [1, 1, 1, 1, 1, 1, 1, 1] }),
    lead: 'Together, apart, replace, twice, changing over half a turn.',
    follow: 'Together, apart, replace, twice, changing over half a turn.',
    source: fromMemory,
  }),
  figure(hustle, {
    id: 'hustle-right-turn',
    name: 'Right turn',
    counts: 6,
    rhythm,
    preparation: 3,
    steps: stepsOf({ ...both, turns: [0, 0, 0, 0, -2, -2, 0, 0], followTurns: [0, 0, 0, 0, 2, 2, 0, 0] }),
    lead: 'Raises the left hand as both change places.',
    follow: 'Turns to the right under the raised hand.',
    room: 2.5,
    cautions: ['fast turn'],
    difficulty: 2,
    source: fromMemory,
  }),
  figure(hustle, {
    id: 'hustle-left-turn',
    name: 'Left turn',
    counts: 6,
    rhythm,
    preparation: 3,
    steps: stepsOf({ ...both, turns: [0, 0, 0, 0, 2, 2, 0, 0], followTurns: [0, 0, 0, 0, -2, -2, 0, 0] }),
    lead: 'Brings the left hand across as both change places.',
    follow: 'Turns to the left under the raised hand.',
    room: 2.5,
    cautions: ['fast turn'],
    difficulty: 2,
    source: fromMemory,
  }),
  figure(hustle, {
    id: 'hustle-side-pass',
    name: 'Side pass',
    counts: 6,
    rhythm,
    preparation: 3,
    steps: stepsOf({ ...both, turns: [-1, -1, -1, -1, 0, 0, 0, 0] }),
    lead: 'Steps out of the way and lets the follow pass, half a turn to the left; then in place.',
    follow: 'Walks past and turns to face; then in place.',
    room: 3,
    source: fromMemory,
  }),
  figure(hustle, {
    id: 'hustle-wrap',
    name: 'Wrap and unwrap',
    counts: 6,
    rhythm,
    preparation: 3,
    steps: stepsOf({ ...both, followTurns: [-2, -2, 0, 0, 2, 2, 0, 0] }),
    lead: 'With both hands, wraps the follow to the side and unwraps them.',
    follow: 'Turns left into the arm, and right out of it.',
    difficulty: 2,
    source: fromMemory,
  }),
  figure(hustle, {
    id: 'hustle-no-turn',
    name: 'Together and apart',
    counts: 6,
    rhythm,
    easyOn: ['small room', 'long dress', 'knees'],
    steps: stepsOf(both),
    lead: 'The basic in its place, without a turn.',
    follow: 'The basic in its place, without a turn.',
    source: fromMemory,
  }),
  figure(hustle, {
    id: 'hustle-lead-turn',
    name: 'Lead turns',
    counts: 6,
    rhythm,
    preparation: 3,
    steps: stepsOf({ ...both, turns: [0, 0, 0, 0, 4, 4, 0, 0], followTurns: [0, 0, 0, 0, 0, 0, 0, 0] }),
    lead: 'Turns once to the right under their own hand.',
    follow: 'Dances in place.',
    room: 2.5,
    cautions: ['fast turn'],
    difficulty: 2,
    source: fromMemory,
  }),
];
