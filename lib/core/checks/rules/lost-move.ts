import type { Rule } from '../finding.ts';
import { placeOfRecord } from '../words.ts';

export const rule: Rule = {
  id: 'lost-move',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  local: 'itself',
  what: 'A place in the dance names a move that is no longer among the board’s moves.',
  why: 'Two people changed the board at once: one took the move away, the other used it.',
  todo: 'Choose a move for this place again.',
  source: 'design',
  fixes: ['placed'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    const known = new Set(plan.moves.map(({ id }) => id));
    const others = plan.moves.filter(({ basic, landsOn }) => !basic && landsOn === null);
    return plan.placed
      .filter(({ move }) => !known.has(move))
      .map((place) => ({
        about: place.id,
        place: placeOfRecord(plan, danced.score, place.at),
        figures: { move: place.move },
        sentence: 'A move that was placed here has been taken off the board.',
        fixes: () =>
          others.slice(0, 4).map((move) => ({
            words: `Dance “${move.name}” here`,
            changes: [{ collection: 'placed' as const, id: place.id, fields: { move: move.id, times: 1 } }],
          })),
      }));
  },
};
