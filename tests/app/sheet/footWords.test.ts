import { expect, it } from 'vitest';
import { drawnFeet } from '../../../app/_dance/footDrawing.ts';
import { footSentence, turnWords } from '../../../app/_dance/footWords.ts';
import { footDiagram, mirroredFeet } from '../../../lib/core/dance/footDiagram.ts';
import { links } from '../../../lib/core/dance/library/links.ts';
import { standardMoves } from '../../../lib/core/dance/library/standard.ts';
import { libraryMove } from '../../kit/board.ts';

const drawn = (id: string, who: 'lead' | 'follow') => footDiagram(libraryMove(id), who)!;

it('a box step is heard as it is taught, by lead and follow', () => {
  expect(footSentence('Box step', drawn('waltz-box', 'lead'), false)).toBe(
    'Box step, the lead’s feet. 1: left foot forward; 2: right foot to the right; 3: left foot closes; 4: right foot back; 5: left foot to the left; 6: right foot closes. No turn.',
  );
  expect(footSentence('Box step', mirroredFeet(drawn('waltz-box', 'follow')), true)).toBe(
    'Box step, the follow’s feet, as in a mirror. 1: left foot back; 2: right foot to the right; 3: left foot closes; 4: right foot forward; 5: left foot to the left; 6: right foot closes. No turn.',
  );
});

it.each([
  ['waltz-reverse-turn', 'lead', 'Turns three quarters of a turn to the left.'],
  ['waltz-natural-spin', 'lead', 'Turns once round and a quarter of a turn to the right.'],
  ['sway-turn-four', 'lead', 'Turns half a turn to the left.'],
  ['waltz-underarm', 'follow', 'Turns once round to the right.'],
  ['waltz-roll-out-and-in', 'follow', 'Turns, and back again.'],
  ['waltz-roll-out-and-in', 'lead', 'No turn.'],
] as const)('%s, %s: %s', (id, who, words) => expect(turnWords(drawn(id, who))).toBe(words));

it('half counts, a step across and a weight that comes back are said', () => {
  expect(footSentence('Chassé', drawn('waltz-chasse', 'lead'), false)).toBe(
    'Chassé, the lead’s feet. 1: right foot across to the left; 2: left foot to the left; 2 and: right foot closes; 3: left foot to the left. No turn.',
  );
  expect(footSentence('Basic', drawn('swing-basic', 'lead'), false)).toContain(
    '5: left foot back; 6: right foot takes the weight where it stands.',
  );
});

it('every figure is drawn within 280 by 340 pixels, each count within the drawing and once', () => {
  for (const move of [...standardMoves, ...links])
    for (const who of ['lead', 'follow'] as const) {
      const diagram = footDiagram(move, who)!;
      const { width, height, feet, labels } = drawnFeet(diagram);
      expect(width, move.id).toBeLessThanOrEqual(281);
      expect(height, move.id).toBeLessThanOrEqual(341);
      expect(feet).toHaveLength(diagram.marks.length);
      expect(
        labels.flatMap(({ words }) => words.split(' ')),
        move.id,
      ).toHaveLength(diagram.marks.length);
      for (const { x, y, half } of labels) {
        expect(x - half, move.id).toBeGreaterThanOrEqual(0);
        expect(x + half, move.id).toBeLessThanOrEqual(width);
        expect(Math.min(y, height - y), move.id).toBeGreaterThanOrEqual(7);
      }
    }
});
