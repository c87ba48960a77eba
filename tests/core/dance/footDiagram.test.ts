import { describe, expect, it } from 'vitest';
import { footworkOf } from '../../../lib/core/dance/automaton.ts';
import {
  type FootDiagram,
  type FootMark,
  footDiagram,
  HALF_STANCE,
  mirroredFeet,
} from '../../../lib/core/dance/footDiagram.ts';
import { links } from '../../../lib/core/dance/library/links.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { leadSteps, travelOf, usualStride } from '../../../lib/core/dance/path.ts';
import { otherFoot, PAIRS } from '../../../lib/core/dance/stance.ts';
import { libraryMove } from '../../kit/board.ts';

const all = [...standardMoves, ...links];
const both = ['lead', 'follow'] as const;
const of = (id: string, who: 'lead' | 'follow'): FootDiagram => footDiagram(libraryMove(id), who)!;
const placeOf = ({ x, y }: FootMark) => [x, y];

describe('the feet of every figure of the library', () => {
  it.each(all.map((move) => [move.id, move] as const))('%s: a mark a step, feet in turn', (_, move) => {
    for (const who of both) {
      const { marks, turn, start } = footDiagram(move, who)!;
      const steps = move.steps!.filter((step) => step.who === 'both' || step.who === who);
      expect(marks.map(({ count }) => count)).toEqual(steps.map(({ begins }) => begins + 1));
      expect(turn).toBe(45 * steps.reduce((sum, step) => sum + step.turn, 0));
      if (marks.length > 0) expect(marks.at(-1)!.facing).toBe(turn);
      expect(start.map(({ foot }) => foot)).toEqual(['left', 'right']);
      // Weight alternates; a touch leaves its foot free.
      const weight = marks.filter(({ how }) => how !== 'touch').map(({ foot }) => foot);
      for (const [i, foot] of weight.slice(1).entries()) expect(foot).toBe(otherFoot(weight[i]!));
      // The automaton begins with the same foot, and has the same one free afterwards.
      if (weight.length === 0 || move.eitherFoot) continue;
      const side = who === 'lead' ? 0 : 1;
      for (const [pair, after] of footworkOf(move).entries()) {
        if (after === 0) continue;
        expect(PAIRS[pair]![side]).toBe(weight[0]);
        for (const [to, feet] of PAIRS.entries())
          if (after & (1 << to)) expect(feet[side]).toBe(otherFoot(weight.at(-1)!));
      }
    }
  });

  it('mirrored twice is the same, and mirrored once turns the other way on other feet', () => {
    for (const move of all)
      for (const who of both) {
        const drawn = footDiagram(move, who)!;
        const mirror = mirroredFeet(drawn);
        expect(mirroredFeet(mirror), move.id).toEqual(drawn);
        expect(mirror.turn + drawn.turn).toBe(0);
        for (const [i, mark] of mirror.marks.entries()) {
          expect(mark.foot).not.toBe(drawn.marks[i]!.foot);
          expect(mark.x + drawn.marks[i]!.x).toBe(0);
        }
      }
  });

  it('leads the lead as far as the path of the floor goes', () => {
    for (const move of standardMoves) {
      const last = footDiagram(move, 'lead')!.marks.at(-1)!;
      if (last.how.startsWith('cross')) continue;
      const { along, side } = travelOf(leadSteps(move));
      const far = Math.hypot(last.x - side * usualStride, last.y - along * usualStride);
      expect(far, move.id).toBeCloseTo(HALF_STANCE, 2);
    }
  });
});

describe('feet as they are taught', () => {
  // Where each foot goes by "The box step", dancehealthfitness.com/the-waltz-the-box-step.html: LF forward, RF side, LF closes, RF
  // back, LF side, RF closes, the follow opposite. That the steps outline the four corners of a box: "Left Box (Reverse) Turn",
  // ballroomdancers.com, fact sheet 107.
  it.each(['waltz-box', 'rumba-box'])('%s outlines a box whose sides are one step long', (id) => {
    const h = HALF_STANCE;
    const lead = of(id, 'lead').marks;
    expect(lead.map(({ foot }) => foot[0]).join('')).toBe('lrlrlr');
    expect(lead.map(placeOf)).toEqual([
      [-h, 0.5],
      [0.5 + h, 0.5],
      [0.5 - h, 0.5],
      [0.5 + h, 0],
      [-h, 0],
      [h, 0],
    ]);
    const follow = of(id, 'follow').marks;
    expect(follow.map(({ foot }) => foot[0]).join('')).toBe('rlrlrl');
    expect(follow.map(placeOf)).toEqual([
      [h, -0.5],
      [-0.5 - h, -0.5],
      [-0.5 + h, -0.5],
      [-0.5 - h, 0],
      [h, 0],
      [-h, 0],
    ]);
  });

  // "Reverse Turn" of the bronze waltz charts at magicdanceworld.com. The man: LF forward; RF to side, 1/4 L; LF closes, 1/8 L; RF back;
  // LF to side, 3/8 L; RF closes.
  it('the left turn of the waltz is the published chart, step by step', () => {
    const { marks, turn } = of('waltz-reverse-turn', 'lead');
    const rows = marks.map(({ foot, ahead, right, how, turn: by }) => [
      foot,
      how === 'close' ? 'closes' : ahead > 0 ? 'forward' : ahead < 0 ? 'back' : right === 0 ? '' : 'side',
      by / 360,
    ]);
    expect(rows).toEqual([
      ['left', 'forward', 0],
      ['right', 'side', -1 / 4],
      ['left', 'closes', -1 / 8],
      ['right', 'back', 0],
      ['left', 'side', -3 / 8],
      ['right', 'closes', 0],
    ]);
    expect(turn).toBe(-270);
  });

  // "Waltz Whisk", centralhome.com/ballroomcountry/waltz_steps-2.htm: LF forward, RF side, LF crosses behind RF.
  it('the whisk ends with the left foot behind the right and past it', () => {
    const [, side, behind] = of('waltz-whisk', 'lead').marks;
    expect(behind!.foot).toBe('left');
    expect(behind!.x).toBeGreaterThan(side!.x);
    expect(behind!.y).toBeLessThan(side!.y);
  });

  it('in promenade the follow goes forward, to where the lead does', () => {
    const [through] = of('waltz-chasse', 'follow').marks;
    expect([through!.foot, through!.ahead, through!.right]).toEqual(['left', 0.5, 0]);
  });
});

it('a move that tells no steps has no diagram, and one without a step has only its start', () => {
  const { steps: _steps, ...untold } = libraryMove('waltz-box');
  expect(footDiagram(untold, 'lead')).toBeNull();
  const wait = footDiagram({ steps: [] }, 'follow')!;
  expect([wait.start.length, wait.marks.length, wait.turn]).toEqual([2, 0, 0]);
});

it('a longer stride makes a larger box', () => {
  const [first] = footDiagram(libraryMove('waltz-box'), 'lead', 0.7)!.marks;
  expect(first!.y).toBe(0.7);
});
