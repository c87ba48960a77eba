import { describe, expect, it } from 'vitest';
import { parseClock, parseNumber } from '../../../app/_dance/entering.ts';
import { type MoveForm, ownMove } from '../../../app/_dance/ownMove.ts';
import { move } from '../../../lib/core/dance/move.ts';
import { gridOf } from '../../kit/board.ts';

const form: MoveForm = {
  name: ' Lantern turn ',
  counts: '6',
  preparation: '3',
  landsOn: '',
  holdBefore: 'closed',
  holdAfter: 'open',
  lead: '',
  follow: '',
  room: '2,5',
  difficulty: '2',
  repeats: true,
  travels: false,
  cautions: [],
};

describe('a move of one’s own', () => {
  it('becomes a move that the plan accepts', () => {
    const made = ownMove(form, gridOf());
    expect(made.ok && move.safeParse(made.move).success).toBe(true);
    expect(made).toMatchObject({
      move: { name: 'Lantern turn', metre: 3, counts: 6, landsOn: null, room: 2.5, difficulty: 2 },
    });
  });
  it('has the safer form with it when it is a dip or a lift', () => {
    const made = ownMove({ ...form, cautions: ['lift', 'nonsense'] }, gridOf());
    expect(made).toMatchObject({ move: { cautions: ['lift'] } });
    expect(made.ok && made.move.saferForm).not.toBe('');
  });
  it('is refused with a sentence when it cannot be danced', () => {
    expect(ownMove({ ...form, name: ' ' }, gridOf())).toMatchObject({ ok: false });
    expect(ownMove({ ...form, counts: 'six' }, gridOf())).toMatchObject({ ok: false });
    expect(ownMove({ ...form, landsOn: '9' }, gridOf())).toEqual({
      ok: false,
      sentence: 'A move of 6 counts cannot land on count 9.',
    });
  });
});

describe('what people write', () => {
  it.each([
    ['3:02', 182],
    ['3:02.5', 182.5],
    ['0:07,25', 7.25],
    ['182', 182],
    ['3:72', null],
    ['soon', null],
    ['', null],
  ])('reads the time %s', (text, seconds) => expect(parseClock(text)).toBe(seconds));
  it('reads numbers with point or comma, within bounds', () => {
    expect(parseNumber('1,27', 0.3, 2)).toBe(1.27);
    expect(parseNumber('99', 0, 60)).toBe(60);
    expect(parseNumber('', 0, 60)).toBeNull();
  });
});
