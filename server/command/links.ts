import { role } from '../../lib/core/areas/people.ts';
import { ask } from './store.ts';
import type { Verb } from './verb.ts';
import { Wrong } from './wrong.ts';

export const linksVerb: Verb = {
  use: `BOARD --role ${role.options.join('|')} [--days 30]`,
  does: 'a new link to a board, for whoever runs the server',
  words: 1,
  options: { role: { type: 'string' }, days: { type: 'string' } },
  async run([board = ''], given) {
    const wanted = role.safeParse(given.role);
    if (!wanted.success) throw new Wrong(`links: say who it is for with --role ${role.options.join(', ')}.`);
    const days = given.days === undefined ? null : Number(given.days);
    if (days !== null && !(Number.isInteger(days) && days > 0))
      throw new Wrong('--days: write a whole number of days.');
    const url = await ask({ verb: 'links', board, role: wanted.data, days });
    return {
      json: { board, role: wanted.data, days, url },
      text: url,
      line: `links: whoever has it opens the board as ${wanted.data}; it is shown this once.`,
    };
  },
};
