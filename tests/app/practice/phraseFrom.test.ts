import { expect, it, vi } from 'vitest';
import { BEFORE_ALL, Player } from '../../../app/_practice/player.ts';
import { phraseFrom, stepPhrase } from '../../../app/_practice/useMediaSession.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { floorTime } from '../../../lib/core/units.ts';
import { planOf } from '../../kit/board.ts';

const score = boardScore(planOf({}, {}))!;
const [first = 0, second = 0, third = 0] = score.phrases.map((phrase): number => phrase.floor);
const from = (here: number, by: -1 | 1) => phraseFrom(score, floorTime(here), by);

it('a headphone’s buttons go from phrase to phrase', () => {
  expect(from(first + 1, 1)).toBe(second);
  expect(from(second, 1)).toBe(third);
  expect(from(third + 3, -1)).toBe(third);
  expect(from(third + 0.5, -1)).toBe(second);
  expect(from(score.length, 1)).toBe(score.length);
  expect(from(0.2, -1)).toBe(0);
});

it('back from the first phrase lies what is counted in, but for whoever goes round there', () => {
  const player = new Player();
  const seek = vi.spyOn(player, 'seek');
  player.seek(floorTime(1));
  stepPhrase(player, score, -1);
  expect(seek).toHaveBeenLastCalledWith(BEFORE_ALL);
  player.setLoop({
    ...{ name: 'intro', scope: 'section', start: floorTime(0) },
    ...{ from: floorTime(0), to: floorTime(second) },
  });
  player.seek(floorTime(1));
  stepPhrase(player, score, -1);
  expect(seek).toHaveBeenLastCalledWith(0);
});
