import type { Move } from '../move.ts';
import { stepsOf } from '../stepping.ts';
import { type DanceStyle, figure, fromMemory, published } from './figures.ts';
import { EIGHT_TRIPLES, SIX_TRIPLES } from './rhythms.ts';

const westCoast: DanceStyle = {
  dance: 'west coast swing',
  metre: 4,
  level: 'beat',
  hold: 'one hand',
  leastSeconds: 0.45,
};
const six = '1 2, 3 and 4, 5 and 6';
const figures = published(
  'basic patterns at liquisearch.com and westcoastswingonline.com: counts; steps from memory',
);
/** The couple's middle comes back to where it was: the follow goes along a line, the lead about its middle. */
const inPlace = {
  foot: 'left',
  rhythm: SIX_TRIPLES,
  ways: ['small back', 'replace', 'place', 'place', 'place', 'place', 'place', 'place'],
} as const;

export const westCoastFigures: Move[] = [
  figure(westCoast, {
    id: 'west-coast-sugar-push',
    name: 'Sugar push',
    counts: 6,
    basic: true,
    rhythm: six,
    steps: stepsOf(inPlace),
    lead: 'Back, back; a triple in place, and a triple to stay.',
    follow: 'Walk, walk to the lead; a triple in place, and a triple back to the end.',
    room: 3,
    source: figures,
  }),
  figure(westCoast, {
    id: 'west-coast-left-pass',
    name: 'Left side pass',
    counts: 6,
    rhythm: six,
    preparation: 2,
    steps: stepsOf({ ...inPlace, turns: [0, -1, -1, -1, -1, 0, 0, 0] }),
    lead: 'Steps out of the line and lets the follow pass on the left.',
    follow: 'Walks past the lead’s left side to the other end, and turns to face.',
    room: 4,
    source: figures,
  }),
  figure(westCoast, {
    id: 'west-coast-underarm-pass',
    name: 'Underarm pass',
    counts: 6,
    rhythm: six,
    preparation: 2,
    steps: stepsOf({
      ...inPlace,
      turns: [0, 1, 1, 1, 1, 0, 0, 0],
      followTurns: [0, 0, -1, -1, -2, 0, 0, 0],
    }),
    lead: 'Steps out of the line and raises the left hand; the follow passes on the right.',
    follow: 'Walks past the lead’s right side under the raised hand, and turns to face.',
    room: 4,
    source: figures,
  }),
  figure(westCoast, {
    id: 'west-coast-tuck-pass',
    name: 'Tuck pass',
    counts: 6,
    rhythm: six,
    preparation: 2,
    steps: stepsOf({
      ...inPlace,
      turns: [0, -1, -1, -1, -1, 0, 0, 0],
      followTurns: [0, -1, 1, 1, 1, 1, 1, 0],
    }),
    lead: 'As the left side pass, turning the follow in on 2 and away on 4.',
    follow: 'Turns in on 2, then to the right under the hand at the other end.',
    room: 4,
    difficulty: 2,
    source: figures,
  }),
  figure(westCoast, {
    id: 'west-coast-sugar-tuck',
    name: 'Sugar tuck',
    counts: 6,
    rhythm: six,
    preparation: 2,
    steps: stepsOf({ ...inPlace, followTurns: [0, -2, 2, 2, 2, 2, 2, 0] }),
    lead: 'As the sugar push, turning the follow away on 4 and under the hand.',
    follow: 'Turns away on 4 and on under the hand, to the same end.',
    room: 3,
    difficulty: 2,
    cautions: ['fast turn'],
    source: figures,
  }),
  figure(westCoast, {
    id: 'west-coast-whip',
    name: 'Whip',
    counts: 8,
    rhythm: '1 2, 3 and 4, 5 6, 7 and 8',
    preparation: 2,
    steps: stepsOf({
      foot: 'left',
      rhythm: EIGHT_TRIPLES,
      ways: [
        ...(['small back', 'replace', 'place', 'place', 'place'] as const),
        ...(['place', 'place', 'place', 'place', 'place'] as const),
      ],
      turns: [0, 1, 1, 1, 1, 2, 2, 0, 0, 0],
    }),
    lead: 'Catches the follow on 3 and 4, turns once with them, and sends them back.',
    follow: 'Walks in, turns with the lead, and walks out to the same end.',
    room: 4,
    difficulty: 3,
    source: figures,
  }),
  figure(westCoast, {
    id: 'west-coast-side-touch',
    name: 'Side and touch',
    counts: 8,
    rhythm: 'side touch, side touch',
    eitherFoot: true,
    easyOn: ['small room', 'long dress', 'knees'],
    room: 2,
    steps: stepsOf({
      foot: 'left',
      rhythm: [2, 2, 2, 2],
      ways: ['small side', 'touch', 'small side', 'touch'],
    }),
    lead: 'A small step and a touch to each side.',
    follow: 'A small step and a touch to each side.',
    source: fromMemory,
  }),
];
