import type { Move } from '../move.ts';
import { stepsOf } from '../stepping.ts';
import { type DanceStyle, figure, fromMemory, published } from './figures.ts';
import { SQQ_SQQ } from './rhythms.ts';

const bolero: DanceStyle = { dance: 'bolero', metre: 4, level: 'beat', hold: 'closed', leastSeconds: 0.5 };
const rhythm = 'slow quick quick, slow quick quick';
const listed = published('the bronze list at ballroomdancelab.com; its steps from memory');
/** The lead rocks back and then forward, the follow with them. */
const base = {
  foot: 'left',
  rhythm: SQQ_SQQ,
  ways: ['side', 'rock back', 'replace', 'side', 'rock forward', 'replace'],
} as const;

export const boleroFigures: Move[] = [
  figure(bolero, {
    id: 'bolero-basic',
    name: 'Basic',
    counts: 8,
    basic: true,
    rhythm,
    steps: stepsOf(base),
    lead: 'Long side step, back, replace; long side step, forward, replace.',
    follow: 'Long side step, forward, replace; long side step, back, replace.',
    room: 2.5,
    source: published('ballroomsurge.com: slow on 1 and 2, quicks on 3 and 4; its steps from memory'),
  }),
  figure(bolero, {
    id: 'bolero-underarm',
    name: 'Underarm turn',
    counts: 8,
    rhythm,
    preparation: 4,
    steps: stepsOf({ ...base, followTurns: [1, 4, 3, 0, 0, 0] }),
    lead: 'Side step with the joined hand raised, then the second half of the basic.',
    follow: 'Turns under the raised hand, then the second half of the basic.',
    room: 3,
    difficulty: 2,
    source: published('underarm turn to the right at ballroomdancers.com: led during the back rock'),
  }),
  figure(bolero, {
    id: 'bolero-cross-body',
    name: 'Cross-body lead',
    counts: 8,
    rhythm,
    preparation: 4,
    steps: stepsOf({ ...base, turns: [-1, -2, -1, 0, 0, 0], followTurns: [0, -2, -2, 0, 0, 0] }),
    lead: 'Turns out of the way on the rock and leads the follow across.',
    follow: 'Walks across in front of the lead, then the second half of the basic.',
    room: 3,
    difficulty: 2,
    source: listed,
  }),
  figure(bolero, {
    id: 'bolero-side-pass',
    name: 'Left side pass',
    counts: 8,
    rhythm,
    preparation: 4,
    steps: stepsOf({ ...base, turns: [-1, -2, -1, 0, 0, 0], followTurns: [-1, -1, -2, 0, 0, 0] }),
    lead: 'Lets the follow pass on the left, half a turn, then the second half of the basic.',
    follow: 'Passes the lead’s left side and turns to face, then the second half of the basic.',
    room: 3,
    difficulty: 2,
    source: listed,
  }),
  figure(bolero, {
    id: 'bolero-crossover',
    name: 'Crossover',
    counts: 8,
    rhythm,
    preparation: 4,
    steps: stepsOf({
      foot: 'left',
      rhythm: SQQ_SQQ,
      ways: ['side', 'through', 'replace', 'side', 'through', 'replace'],
    }),
    lead: 'Side step, a short step through and back; the same to the other side.',
    follow: 'Side step, a short step through and back; the same to the other side.',
    room: 3,
    source: listed,
  }),
  figure(bolero, {
    id: 'bolero-open-break',
    name: 'Open break and close in',
    counts: 8,
    rhythm,
    preparation: 4,
    steps: stepsOf({
      foot: 'left',
      rhythm: SQQ_SQQ,
      ways: ['side', 'rock back', 'replace', 'side', 'rock forward', 'replace'],
      followWays: ['side', 'rock forward', 'replace', 'side', 'rock forward', 'replace'],
    }),
    lead: 'Side step, both rock away to arm’s length; side step, and back into hold.',
    follow: 'Side step, both rock away to arm’s length; side step, and back into hold.',
    room: 3,
    source: listed,
  }),
  figure(bolero, {
    id: 'bolero-sway',
    name: 'Slow sway',
    counts: 8,
    rhythm: 'slow, slow, slow, slow',
    eitherFoot: true,
    easyOn: ['small room', 'long dress', 'knees'],
    room: 1.5,
    steps: stepsOf({
      foot: 'left',
      rhythm: [2, 2, 2, 2],
      ways: ['small side', 'touch', 'small side', 'touch'],
    }),
    lead: 'A small step and a touch to each side.',
    follow: 'A small step and a touch to each side.',
    source: fromMemory,
  }),
];
