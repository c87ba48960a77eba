import { type DanceStyle, figure, fromMemory, published } from './figures.ts';
import type { Move } from './move.ts';

/** Feet are the lead's; the follow mirrors. */
const tango: DanceStyle = {
  dance: 'tango',
  metre: 4,
  level: 'beat',
  hold: 'closed',
  leastSeconds: 0.42,
};
const bolero: DanceStyle = {
  dance: 'bolero',
  metre: 4,
  level: 'beat',
  hold: 'closed',
  leastSeconds: 0.5,
};

export const tangoAndBolero: Move[] = [
  figure(tango, {
    id: 'tango-basic',
    name: 'Basic',
    counts: 8,
    basic: true,
    rhythm: 'slow slow quick quick slow',
    lead: 'Two walks forward, forward, side, draw.',
    follow: 'Two walks back, back, side, draw.',
    travels: true,
    room: 4,
    source: published('syllabus lists'),
  }),
  figure(tango, {
    id: 'tango-promenade',
    name: 'Promenade',
    counts: 8,
    rhythm: 'slow slow quick quick slow',
    preparation: 4,
    lead: 'Opens to the side, walks through, and closes with a draw.',
    follow: 'Opens to the side, walks through, and turns back to the lead.',
    travels: true,
    room: 4,
    source: fromMemory,
  }),
  figure(tango, {
    id: 'tango-corte',
    name: 'Corté',
    counts: 8,
    rhythm: 'slow slow quick quick slow',
    preparation: 4,
    lead: 'Steps back into a soft lunge, recovers, and ends with the draw.',
    follow: 'Steps forward into a soft lunge, recovers, and ends with the draw.',
    repeats: false,
    room: 3,
    difficulty: 2,
    cautions: ['dip'],
    saferForm: 'A small step instead of a lunge, both upright.',
    source: fromMemory,
  }),
  figure(bolero, {
    id: 'bolero-basic',
    name: 'Basic',
    counts: 8,
    basic: true,
    rhythm: 'slow quick quick, slow quick quick',
    lead: 'Long side step, back, replace; long side step, forward, replace.',
    follow: 'Long side step, forward, replace; long side step, back, replace.',
    room: 2.5,
    source: fromMemory,
  }),
  figure(bolero, {
    id: 'bolero-underarm',
    name: 'Underarm turn',
    counts: 8,
    rhythm: 'slow quick quick, slow quick quick',
    preparation: 4,
    lead: 'Side step with the joined hand raised, then the second half of the basic.',
    follow: 'Turns under the raised hand, then the second half of the basic.',
    room: 3,
    difficulty: 2,
    source: fromMemory,
  }),
];
