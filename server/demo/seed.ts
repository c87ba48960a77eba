import type { Services } from '../../lib/access/services.ts';

/** Makes the demo board and answers with its id. */
export function seedDemo(services: Services): Promise<string> {
  return services.boards.make({ one: 'Mira', other: 'Jonas', date: null, venue: 'The old boathouse' });
}
