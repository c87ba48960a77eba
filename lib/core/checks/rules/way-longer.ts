import { metreWords, thingWords } from '../../dance/floorWords.ts';
import { wayOn } from '../../dance/onFloor.ts';
import { setFirstStep, usualWalkOn } from '../../dance/walkOn.ts';
import type { Fix, Rule } from '../finding.ts';
import { leadTime } from '../leadTime.ts';
import { beginFixes, onFloorOf } from '../onFloor.ts';
import { placeOfCount, seconds, whereabouts } from '../words.ts';

/** Metres by which a way that was paced off may be longer on the plan; common practice, no source. */
const PACED = 1;

export const rule: Rule = {
  id: 'way-longer',
  about: 'walk-on',
  severity: 'warns',
  reads: ['plan', 'show'],
  what: 'On the floor plan the way from the door is longer than the walk-on counts with.',
  why: 'The couple are still walking when the first step comes.',
  todo: 'Put down the real way, begin nearer to the door, or take the first step later.',
  source: 'the floor plan; comfortable gait 127 to 146 cm/s (published: Bohannon 1997)',
  fixes: ['walkOn', 'beginsAt'],
  run({ board, danced }) {
    const walkOn = board.plan.walkOn ?? usualWalkOn;
    const onFloor = danced && onFloorOf(board, danced);
    if (!danced?.walk || !onFloor || walkOn.how === 'in place') return [];
    const { score, walk } = danced;
    const way = wayOn(onFloor.floor, onFloor.begins, walkOn.from);
    if (!way || way.metres <= walkOn.metres + PACED) return [];
    const longer = (way.metres - walkOn.metres) / walkOn.pace;
    const needed = walk.seconds + longer;
    // What the intro does not give the run of show may, before the music.
    const spare = walk.firstStepAt + (leadTime(board, walk).before ?? 0) - needed;
    const metres = Math.min(60, Math.ceil(way.metres));
    return [
      {
        severity: spare < 0 ? 'warns' : 'hints',
        place: placeOfCount(score, walk.firstStep),
        figures: { way: way.metres, told: walkOn.metres, spare },
        sentence: `From ${thingWords(way.door)} it is ${metreWords(way.metres)} to where the dance begins; the walk-on counts with ${metreWords(walkOn.metres)}. ${
          spare < 0 ? `The first step comes ${seconds(spare)} too early for that.` : 'There is time for it.'
        }`,
        fixes: (): Fix[] => {
          const walks = (firstStep: number | null, words: string): Fix => {
            const [set] = firstStep === null ? [] : setFirstStep(board.plan, score, firstStep);
            const value = set && 'register' in set && set.register === 'walkOn' ? set.value! : walkOn;
            return { words, changes: [{ register: 'walkOn', value: { ...value, metres } }] };
          };
          const later = score.phrases
            .filter(({ floor, first }) => floor >= needed && first > walk.firstStep)
            .slice(0, 2)
            .map(({ first }) =>
              walks(first, `Count with ${metres} m, first step ${whereabouts(board.plan, danced, first)}`),
            );
          return [walks(null, `Count with ${metres} m`), ...later, ...beginFixes(onFloor).slice(0, 3)];
        },
      },
    ];
  },
};
