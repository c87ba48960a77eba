import { describe, expect, it } from 'vitest';
import { footworkOf } from '../../../lib/core/dance/automaton.ts';
import { hasFigures, isFigure } from '../../../lib/core/dance/kinds.ts';
import { links } from '../../../lib/core/dance/library/links.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { dance, type Move, move } from '../../../lib/core/dance/move.ts';
import { BETWEEN, freeFoot, pairsIn, weighted } from '../../../lib/core/dance/stance.ts';
import { libraryMove } from '../../kit/board.ts';

const all = [...standardMoves, ...links];
const turnOf = ({ steps }: Move, who: 'lead' | 'follow') =>
  steps!.filter((s) => s.who === 'both' || s.who === who).reduce((sum, { turn }) => sum + turn, 0);

describe('every figure of the library', () => {
  it.each(all.map((one) => [one.id, one] as const))('%s tells steps that make it up', (_, one) => {
    const { id: _id, ...fields } = one;
    expect(move.safeParse(fields).error).toBeUndefined();
    expect(one.source).not.toBe('');
    for (const who of ['lead', 'follow'] as const) {
      const steps = one.steps!.filter((s) => s.who === 'both' || s.who === who);
      // Each step begins where the one before ends, and the last ends with the figure.
      let at = 0;
      for (const step of steps) {
        expect(step.begins).toBe(at);
        at += step.lasts;
      }
      if (!one.link) expect(at).toBe(one.counts);
      // Weight goes from one foot to the other.
      const feet = weighted(one.steps!, who).map(({ foot }) => foot);
      for (const [i, foot] of feet.slice(1).entries()) expect(foot).not.toBe(feet[i]);
    }
    // Both end as the place after it says: the difference of their turns is that of the places.
    const apart = turnOf(one, 'follow') - turnOf(one, 'lead');
    const places = BETWEEN[one.positionAfter!] - BETWEEN[one.positionBefore!];
    expect((((apart - places) % 8) + 8) % 8).toBe(0);
  });

  it('can be begun, and leaves free what it says', () => {
    for (const one of all) {
      const after = footworkOf(one).reduce((set, feet) => set | feet, 0);
      expect(pairsIn(after).length, one.id).toBeGreaterThan(0);
      if (one.eitherFoot || one.steps!.every(({ how }) => how === 'touch')) continue;
      expect(freeFoot({ feet: after }, 'lead'), one.id).toBe(one.footAfter);
      expect(freeFoot({ feet: after }, 'follow'), one.id).toBe(one.followFootAfter);
    }
  });

  it('has a basic and six figures or more for each dance that is named as suiting a song', () => {
    const named = dance.options.filter((name) => name !== 'own');
    for (const name of named) {
      expect(hasFigures(name)).toBe(true);
      const its = standardMoves.filter((one) => one.dance === name);
      expect(
        its.some(({ basic }) => basic),
        name,
      ).toBe(true);
      expect(its.filter(isFigure).length, name).toBeGreaterThanOrEqual(6);
      // A small room, a long dress and bad knees each find something.
      for (const easy of ['small room', 'long dress', 'knees'] as const)
        expect(
          its.some(({ easyOn }) => easyOn?.includes(easy)),
          `${name}, ${easy}`,
        ).toBe(true);
    }
    expect(hasFigures('paso doble')).toBe(false);
  });

  // Read in the published charts that stand beside each figure, in eighths of a turn of the lead, right positive.
  it.each([
    ['waltz-natural-turn', 6, 'magicdanceworld.com, natural spin turn, 1 to 3: 1/4 + 1/8'],
    ['waltz-reverse-turn', -6, 'magicdanceworld.com, reverse turn: 1/4 + 1/8 + 3/8'],
    ['waltz-natural-spin', 10, 'magicdanceworld.com, natural spin turn: 1/4 + 1/8 + 1/2 + 3/8'],
    ['viennese-right-turn', 8, 'dancecentral.info, natural turn: 1/8 + 1/4 + 1/8 + 1/8 + 3/8'],
    ['foxtrot-quarter-turns', 0, 'ballroomdancers.com: 1/4 right, 1/4 left'],
    ['waltz-left-box', -8, 'from memory: a quarter a bar, four bars'],
  ])('%s turns %i eighths (%3$s)', (id, eighths) => expect(turnOf(libraryMove(id), 'lead')).toBe(eighths));

  it.each([
    ['cha-cha-underarm', 8, 'dancecentral.info, spot turns: 1/4 + 1/2 + 1/4'],
    ['tango-closed-promenade', 0, 'dancecentral.info: opened by a quarter, closed by 1/4 to the left'],
  ])('in %s the follow turns %i eighths (%3$s)', (id, eighths) =>
    expect(turnOf(libraryMove(id), 'follow')).toBe(eighths),
  );
});
