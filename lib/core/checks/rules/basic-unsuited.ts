import { basicOf } from '../../dance/basics.ts';
import { suitsMetre } from '../../dance/counts.ts';
import { acrossOf } from '../../dance/floor.ts';
import { standardMoves } from '../../dance/library/standard.ts';
import type { Move } from '../../dance/move.ts';
import type { Danced, Fix, Rule } from '../finding.ts';
import { isTooFast, secondsACount, suitsPace } from '../pace.ts';
import { nowhere, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'basic-unsuited',
  about: 'moves',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'The basic step does not suit the song’s metre or speed, or needs more room than the floor has.',
  why: 'It is most of the dance: whatever else is placed, the couple dance it between.',
  todo: 'Take a basic that suits the song, or count at another level.',
  source: 'the move itself, from memory',
  fixes: ['moves'],
  run({ board, danced }) {
    if (!danced) return [];
    const basics = board.plan.moves.filter(({ basic }) => basic);
    const across = board.show?.floor && acrossOf(board.show.floor);
    const basic = basicOf(board.plan) ?? basics[0];
    const sentence = basic && unsuited(basic, danced, across ?? null);
    if (!basic || !sentence) return [];
    return [
      {
        about: basic.id,
        place: nowhere,
        figures: { basic: basic.name },
        sentence,
        fixes: () => suiting(board.plan.moves, danced, across ?? null),
      },
    ];
  },
};

/** What is against a basic; null when it suits. */
function unsuited(basic: Move, danced: Danced, across: number | null): string | null {
  const name = quoted(basic.name);
  if (!suitsMetre(basic, danced.grid))
    return `Your basic, ${name}, goes in ${basic.metre === 3 ? 'three' : 'four'}, and this song in ${basic.metre === 3 ? 'four' : 'three'}.`;
  if (!suitsPace(basic, danced)) {
    const each = secondsACount(basic, danced).toFixed(2);
    return isTooFast(basic, danced)
      ? `Your basic, ${name}, wants at least ${basic.leastSeconds} s a count; this music gives ${each} s.`
      : `Your basic, ${name}, is very slow here: ${each} s a count.`;
  }
  if (across !== null && basic.room > across)
    return `Your basic, ${name}, needs ${basic.room} m across; the floor has ${across} m.`;
  return null;
}

/** Fixes that take a basic from the library that suits. */
function suiting(moves: readonly Move[], danced: Danced, across: number | null): Fix[] {
  const has = new Set(moves.map(({ id }) => id));
  return standardMoves
    .filter((move) => move.basic && !has.has(move.id) && unsuited(move, danced, across) === null)
    .map(({ id, ...fields }) => ({
      words: `Take ${quoted(fields.name)} as well`,
      changes: [{ collection: 'moves', id, fields }],
    }));
}
