import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import { type Asked, type Offers, offering } from '../../../app/_dance/proposal.ts';
import { applyChanges, readArea } from '../../../lib/board/area.ts';
import { newArea } from '../../../lib/board/layout.ts';
import { areaUpdate } from '../../../lib/board/write.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import type { PlanChange } from '../../../lib/core/areas/change.ts';
import { emptyBoard } from '../../../lib/core/areas/empty.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import { moveBy } from '../../../lib/core/dance/place.ts';
import { good } from '../../../lib/core/result.ts';
import { barAt, libraryMove, placed, planOf } from '../../kit/board.ts';
import { pageOver } from '../../kit/page.ts';

const plan = planOf(
  {},
  {
    moves: ['waltz-box', 'waltz-underarm', 'waltz-whisk', 'waltz-chasse'].map(libraryMove),
    placed: [placed('p', 'waltz-underarm', barAt(24))],
  },
);

function offered(asked: Asked): Offers {
  const steps = offering(asked);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/** A page of somebody's own, with a copy of the board that is behind until it meets the other. */
function screen(update: Uint8Array) {
  const doc = newArea(areas.plan);
  Y.applyUpdate(doc, update);
  const read = () => readArea(doc, areas.plan);
  const page = pageOver({
    role: 'couple',
    read: () => ({ ...emptyBoard(), plan: read() }),
    mayWrite: () => true,
    write(_area, changes) {
      applyChanges(doc, areas.plan, changes as unknown as PlanChange[]);
      return good(true);
    },
  });
  return { doc, read, page };
}

const does = fc.constantFrom('propose', 'propose anew', 'move', 'fix', 'meet');
const act = fc.record({
  who: fc.constantFrom(0, 1),
  does,
  which: fc.nat(20),
  steps: fc.constantFrom(-2, -1, 1, 3),
});

test('what a person has placed is moved by no suggestion, in any order and from two screens', () => {
  const update = areaUpdate(areas.plan, plan);
  let suggested = 0;
  fc.assert(
    fc.property(fc.array(act, { minLength: 4, maxLength: 14 }), (acts) => {
      const screens = [screen(update), screen(update)];
      /** Where a hand has put a move last, on the screen where it did. */
      const byHand = screens.map(() => new Map([['p', plan.placed[0]!.at as number]]));
      const meet = () => {
        const [one, other] = screens as [(typeof screens)[0], (typeof screens)[0]];
        Y.applyUpdate(one.doc, Y.encodeStateAsUpdate(other.doc));
        Y.applyUpdate(other.doc, Y.encodeStateAsUpdate(one.doc));
        // Of two hands that moved the same move while apart, the later stands.
        const now = new Map(one.read().placed.map(({ id, at }) => [id, at as number]));
        const ids = byHand.flatMap((own) => [...own.keys()]);
        for (const id of ids) expect(byHand.map((own) => own.get(id))).toContain(now.get(id));
        for (const own of byHand) for (const id of ids) own.set(id, now.get(id)!);
      };
      for (const { who, does, which, steps } of acts) {
        const { read, page } = screens[who]!;
        const own = byHand[who]!;
        const score = boardScore(read())!;
        if (does === 'meet') meet();
        else if (does === 'move') {
          const one = read().placed[which % read().placed.length]!;
          page.change('plan', moveBy(read(), score, one.id, 'bar', steps) as PlanChange[]);
          own.set(one.id, read().placed.find(({ id }) => id === one.id)!.at);
        } else if (does === 'fix') {
          const notes = checkBoard({ ...emptyBoard(), plan: read() }, '2027-05-01').filter(({ fix }) => fix);
          const note = notes[which % Math.max(1, notes.length)];
          if (!note) continue;
          const about = note.id.slice(note.rule.length + 1);
          page.change('plan', note.fix!.changes, { way: 'suggestion', about: [about] });
          suggested += 1;
          // The person has read of this one, and pressed.
          const moved = read().placed.find(({ id }) => id === about);
          if (own.has(about) && moved) own.set(about, moved.at);
          else own.delete(about);
        } else {
          const { dances } = offered({ plan: read(), wishes: {}, anew: does !== 'propose', landing: null });
          const dance = dances[which % Math.max(1, dances.length)];
          if (!dance) continue;
          page.change('plan', dance.changes, { way: 'suggestion' });
          suggested += 1;
        }
        // Whoever is asked keeps what stands on the sheet.
        page.gate.decline();
        const now = new Map(read().placed.map(({ id, at }) => [id, at as number]));
        for (const [id, at] of own) expect(now.get(id)).toBe(at);
      }
      meet();
    }),
    { numRuns: 20 },
  );
  expect(suggested).toBeGreaterThan(40);
});
