import { describe, expect, test } from 'vitest';
import { moveFrom, newMove } from '../../../app/_studio/moveForm.ts';
import { libraryMove } from '../../kit/board.ts';

/** A form as the page would send it. */
function form(words: Record<string, string | string[]>): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries({
    dance: 'waltz',
    metre: '3',
    level: 'beat',
    name: 'Slow circle',
    counts: '6',
    startsOn: '1',
    preparation: '0',
    holdBefore: 'closed',
    holdAfter: 'open',
    footBefore: 'left',
    footAfter: 'left',
    room: '2.5',
    leastSeconds: '0,4',
    difficulty: '2',
    ...words,
  }))
    for (const each of [value].flat()) data.append(name, each);
  return data;
}

describe('a move of the studio’s own, from its form', () => {
  test('takes what was typed, a decimal comma too', () => {
    const made = moveFrom(form({ cautions: ['dip', 'dress'], repeats: 'on' }));
    expect(made).toMatchObject({
      ok: true,
      value: {
        name: 'Slow circle',
        counts: 6,
        room: 2.5,
        leastSeconds: 0.4,
        landsOn: null,
        cautions: ['dip', 'dress'],
        repeats: true,
        basic: false,
        source: newMove.source,
      },
    });
  });
  test('keeps the steps of the figure that it began with, while feet, place and counts are as they were', () => {
    const { id: _, ...box } = libraryMove('waltz-box');
    const as = {
      ...{ holdAfter: 'closed', followFootBefore: 'right', followFootAfter: 'right' },
      ...{ positionBefore: 'facing', positionAfter: 'facing' },
    };
    const kept = moveFrom(form(as), box);
    expect(kept.ok && kept.value.steps).toEqual(box.steps);
    expect(kept.ok && kept.value.positionAfter).toBe('facing');
    const other = moveFrom(form({ ...as, footAfter: 'right' }), box);
    expect(other.ok && other.value.steps).toBeUndefined();
    const unsaid = moveFrom(form({ positionBefore: '' }));
    expect(unsaid.ok && 'positionBefore' in unsaid.value).toBe(false);
  });
  test.each([
    ['no name', { name: '  ' }, 'Name'],
    ['no count', { counts: '' }, 'Counts'],
    ['half a count', { counts: '2.5' }, 'Counts'],
    ['a pose that lands after its end', { landsOn: '7' }, 'lands on one of its own counts'],
    ['too fast to dance', { leastSeconds: '0.01' }, 'Least seconds'],
  ])('says what is wrong with %s', (_what, words, says) => {
    const made = moveFrom(form(words as Record<string, string>));
    expect(made.ok).toBe(false);
    expect(made.ok ? '' : made.problem.sentence).toContain(says);
  });
});
