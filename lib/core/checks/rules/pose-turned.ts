import { thingsOf } from '../../dance/floor.ts';
import { thingWords } from '../../dance/floorWords.ts';
import { facingAway, hiddenBy } from '../../dance/onFloor.ts';
import type { Draft, Rule } from '../finding.ts';
import { beginFixes, onFloorOf, placeIn } from '../onFloor.ts';
import { capital, partners } from '../words.ts';

/** From a quarter of a turn on nobody knows which way they face. */
const UNKNOWN = 2;

export const rule: Rule = {
  id: 'pose-turned',
  about: 'ending',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'In the closing pose one of the two has their back to the camera, or a pillar stands between.',
  why: 'It is the picture that is kept.',
  todo: 'Begin facing elsewhere, so that the pose is seen from the side, or give the camera another place.',
  source: 'common practice, no source: a face is seen up to three eighths of a turn',
  fixes: ['beginsAt'],
  run({ board, danced }) {
    const onFloor = danced && onFloorOf(board, danced);
    if (!danced || !onFloor?.pose) return [];
    const { place, position } = onFloor.pose;
    const names = partners(board.plan);
    return thingsOf(onFloor.floor, 'camera').flatMap((camera): Draft[] => {
      const about = { about: camera.id, place: placeIn(danced, place), fixes: () => beginFixes(onFloor) };
      const hidden = hiddenBy(onFloor.floor, camera, place);
      if (hidden)
        return [
          {
            ...about,
            severity: 'hints',
            figures: { hidden: hidden.name },
            sentence: `${capital(thingWords(hidden))} stands between ${thingWords(camera)} and the closing pose.`,
          },
        ];
      const facing = facingAway(place, position, camera);
      if (!facing?.isAway || facing.aside >= UNKNOWN) return [];
      const isSure = facing.off - facing.aside > 3;
      const back = `${names[facing.who]}’s back is to ${thingWords(camera)}`;
      return [
        {
          ...about,
          severity: isSure ? 'warns' : 'hints',
          figures: { eighths: facing.off, aside: facing.aside },
          sentence: isSure
            ? `In the closing pose ${back}.`
            : `In the closing pose ${back}, as far as the steps tell: they may stand ${Math.round(facing.aside * 45)}° otherwise.`,
        },
      ];
    });
  },
};
