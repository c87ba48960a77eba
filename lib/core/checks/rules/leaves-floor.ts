import { metreWords } from '../../dance/floorWords.ts';
import type { Rule } from '../finding.ts';
import { beginFixes, onFloorOf, placeIn, touchesOf } from '../onFloor.ts';

export const rule: Rule = {
  id: 'leaves-floor',
  about: 'moves',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'The path of the dance leads over the edge of the floor.',
  why: 'They stop short, step off it, or dance into a table.',
  todo: 'Begin elsewhere or facing elsewhere, or dance a move there that travels less.',
  source: 'steps of the moves; half a metre to each side of the couple: common practice, no source',
  fixes: ['beginsAt'],
  run({ board, danced }) {
    const onFloor = danced && onFloorOf(board, danced);
    const touch = onFloor && touchesOf(onFloor).find(({ bound }) => bound.of === 'edge');
    if (!danced || !touch) return [];
    const { place, by, isSure } = touch;
    const over = `${metreWords(by)} over the edge of the floor`;
    return [
      {
        severity: isSure ? 'warns' : 'hints',
        place: placeIn(danced, place),
        figures: { over: by, within: place.within },
        sentence: `${began(onFloor.isProposed)} ${isSure ? `leads up to ${over}` : `may lead ${over}: how far it goes is known to ${metreWords(place.within)} there`}.`,
        fixes: () => beginFixes(onFloor),
      },
    ];
  },
};

const began = (isProposed: boolean): string =>
  isProposed ? 'Wherever it begins, as far as was tried, the dance' : 'From where it begins, the dance';
