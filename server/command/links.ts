import { role } from '../../lib/core/areas/people.ts';
import { newLinkRequest } from '../../lib/protocol/api.ts';
import { ask } from './store.ts';
import type { Verb } from './verb.ts';
import { Wrong } from './wrong.ts';

export const linksVerb: Verb = {
  use: 'BOARD',
  does: 'a new link to a board, for whoever runs the server',
  words: 1,
  options: {
    role: { value: role.options.join('|'), does: 'for whom it is', needed: true },
    days: { value: '30', does: 'days until it ends', usual: 'until it is revoked' },
  },
  example: 'links 6f1c2a --role dj --days 30',
  async run([board = ''], given) {
    const wanted = role.safeParse(given.role);
    if (!wanted.success) throw new Wrong(`links: say who it is for with --role ${role.options.join(', ')}.`);
    const days = given.days === undefined ? null : daysOf(String(given.days));
    const url = await ask({ verb: 'links', board, role: wanted.data, days });
    return {
      json: { board, role: wanted.data, days, url },
      text: url,
      line: `links: whoever has it opens the board as ${wanted.data}; it is shown this once.`,
    };
  },
};

/** As many as the page lets one choose at most. */
function daysOf(text: string): number {
  const wanted = newLinkRequest.shape.days.safeParse(/^\d+$/.test(text) ? Number(text) : text);
  if (wanted.success && wanted.data !== null) return wanted.data;
  throw new Wrong('--days: write a whole number of days, 730 at most.');
}
