import { metreWords, thingWords } from '../../dance/floorWords.ts';
import { KEPT_FROM } from '../../dance/onFloor.ts';
import type { Rule } from '../finding.ts';
import { beginFixes, onFloorOf, placeIn, touchesOf } from '../onFloor.ts';

export const rule: Rule = {
  id: 'too-near',
  about: 'moves',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'The path of the dance leads too near to a pillar, to guests or to the band.',
  why: 'An elbow, a hem or a turning arm meets them.',
  todo: 'Begin elsewhere or facing elsewhere, dance a move there that travels less, or have the chairs moved back.',
  source: 'common practice, no source: 0.3 m from a pillar, 0.5 m from people, besides half a couple',
  fixes: ['beginsAt'],
  run({ board, danced }) {
    const onFloor = danced && onFloorOf(board, danced);
    if (!danced || !onFloor) return [];
    return touchesOf(onFloor).flatMap(({ bound, place, by, isSure }) => {
      if (bound.of === 'edge') return [];
      const name = thingWords(bound.thing);
      const kept = KEPT_FROM[bound.of];
      // Half the couple reaches further than is to be kept: they meet.
      const how = by > kept ? `would meet ${name}` : `comes within ${metreWords(kept - by)} of ${name}`;
      return [
        {
          about: bound.thing.id,
          severity: isSure ? ('warns' as const) : ('hints' as const),
          place: placeIn(danced, place),
          figures: { near: kept - by, kept, within: place.within },
          sentence: isSure
            ? `The dance ${how}; ${metreWords(kept)} are to be kept.`
            : `Perhaps the dance ${how}: where it goes is known to ${metreWords(place.within)} there.`,
          fixes: () => beginFixes(onFloor),
        },
      ];
    });
  },
};
