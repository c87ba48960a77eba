import type { Move } from '../move.ts';
import { stepsOf } from '../stepping.ts';
import { type DanceStyle, figure, fromMemory, published } from './figures.ts';
import { TWO_THREE_CHA } from './rhythms.ts';

const chaCha: DanceStyle = { dance: 'cha-cha', metre: 4, level: 'beat', hold: 'open', leastSeconds: 0.42 };
const rhythm = '2 3, 4 and 1, twice';
const chart = (figure: string) =>
  published(
    `bronze charts at dancecentral.info, cha-cha, ${figure}; 4 and 1 as in published theory questions`,
  );
const of = (name: string, rest: Parameters<typeof figure>[1]) => figure(chaCha, { ...rest, name });
/** All begin on two, as the rhythm does. */
const common = { counts: 8, rhythm, startsOn: 2 };
const base = {
  foot: 'left',
  rhythm: TWO_THREE_CHA,
  ways: [
    ...(['rock forward', 'replace', 'side', 'close', 'side'] as const),
    ...(['rock back', 'replace', 'side', 'close', 'side'] as const),
  ],
} as const;
const crossed = (way: 'through' | 'behind') =>
  [
    ...([way, way === 'through' ? 'replace' : 'place', 'side', 'close', 'side'] as const),
    ...([way, way === 'through' ? 'replace' : 'place', 'side', 'close', 'side'] as const),
  ] as const;

export const chaChaFigures: Move[] = [
  of('Basic', {
    ...common,
    id: 'cha-cha-basic',
    name: '',
    basic: true,
    steps: stepsOf(base),
    lead: 'Rock forward, replace, side close side; rock back, replace, side close side.',
    follow: 'Rock back, replace, side close side; rock forward, replace, side close side.',
    room: 2.5,
    source: chart('basic'),
  }),
  of('New York', {
    ...common,
    id: 'cha-cha-new-york',
    name: '',
    preparation: 4,
    steps: stepsOf({ ...base, ways: crossed('through') }),
    lead: 'Steps through to one side with a check, side close side; the same to the other.',
    follow: 'Steps through to the same side with a check, side close side; the same to the other.',
    room: 3,
    source: chart('New York'),
  }),
  of('Spot turns', {
    ...common,
    id: 'cha-cha-spot-turns',
    name: '',
    preparation: 4,
    holdAfter: 'open',
    steps: stepsOf({
      foot: 'left',
      rhythm: TWO_THREE_CHA,
      ways: ['place', 'place', 'side', 'close', 'side', 'place', 'place', 'side', 'close', 'side'],
      turns: [2, 4, 2, 0, 0, -2, -4, -2, 0, 0],
      followTurns: [-2, -4, -2, 0, 0, 2, 4, 2, 0, 0],
    }),
    lead: 'Lets go, turns once to the right on the spot, side close side; once to the left.',
    follow: 'Lets go, turns once to the left on the spot, side close side; once to the right.',
    room: 3,
    difficulty: 2,
    cautions: ['fast turn'],
    source: chart('spot turns: a quarter, a half and a quarter'),
  }),
  of('Underarm turn', {
    ...common,
    id: 'cha-cha-underarm',
    name: '',
    preparation: 4,
    steps: stepsOf({ ...base, followTurns: [0, 0, 0, 0, 0, 2, 4, 2, 0, 0] }),
    lead: 'The basic, raising the left hand on the rock back.',
    follow: 'The basic, then once to the right under the raised hand.',
    room: 3,
    difficulty: 2,
    source: chart('underarm turns: a quarter, a half and a quarter'),
  }),
  of('Hand to hand', {
    ...common,
    id: 'cha-cha-hand-to-hand',
    name: '',
    preparation: 4,
    steps: stepsOf({ ...base, ways: crossed('behind') }),
    lead: 'Opens out and steps behind, replaces, side close side; the same to the other side.',
    follow: 'Opens out and steps behind, replaces, side close side; the same to the other side.',
    room: 3,
    difficulty: 2,
    source: published('hand to hand in the bronze lists; its steps from memory'),
  }),
  of('Shoulder to shoulder', {
    ...common,
    id: 'cha-cha-shoulder-to-shoulder',
    name: '',
    preparation: 4,
    steps: stepsOf({
      ...base,
      ways: [
        ...(['rock forward', 'replace', 'side', 'close', 'side'] as const),
        ...(['rock forward', 'replace', 'side', 'close', 'side'] as const),
      ],
    }),
    lead: 'Rocks forward past one side of the follow, then past the other.',
    follow: 'Rocks back, the lead on one side, then on the other.',
    room: 2.5,
    source: published('shoulder to shoulder in the bronze lists; its steps from memory'),
  }),
  of('Time step', {
    ...common,
    id: 'cha-cha-time-step',
    name: '',
    easyOn: ['small room', 'long dress', 'knees'],
    steps: stepsOf({
      ...base,
      ways: [
        ...(['behind', 'place', 'small side', 'close', 'small side'] as const),
        ...(['behind', 'place', 'small side', 'close', 'small side'] as const),
      ],
    }),
    lead: 'Behind, replace, and three small steps to the side; the same to the other.',
    follow: 'Behind, replace, and three small steps to the side; the same to the other.',
    room: 2,
    source: fromMemory,
  }),
];
