import type { Couple } from '@/lib/core/areas/people.ts';
import type { Thing } from '@/lib/core/dance/floor.ts';
import { FACINGS, metreWords, thingWords } from '@/lib/core/dance/floorWords.ts';
import { usualStride } from '@/lib/core/dance/path.ts';
import type { FloorPlan, PhraseOnFloor, Shown } from '@/lib/core/handover/floorPlan.ts';
import { clock } from '@/lib/core/units.ts';

/** What stands on the page of the floor. */
export const words = {
  title: 'The floor',
  none: 'Nobody has said yet how large the floor is. Two numbers are enough to begin.',
  noneToRead: 'Nobody has said yet how large the floor is: your instructor or planner can.',
  noCounts: 'The dance shows here once the song’s beats are known.',
  width: 'Along the front, metres',
  depth: 'From front to back, metres',
  draw: 'Draw it',
  size: 'Size',
  notMetres: 'Please give both in metres, from 1 to 100.',
  corners: 'Corners',
  cornersHint: 'Drag a corner on the plan, or give its metres from the left and from the front.',
  drag: 'Move corners on the plan',
  dragging: 'Done with the corners',
  corner: (n: number): string => `Corner ${n}`,
  cornerAfter: (n: number): string => `Another corner after ${n}`,
  takeCorner: (n: number): string => `Take corner ${n} away`,
  refused: 'So the floor’s sides would cross, or it would be under 1 m or over 100 m: it stays as it was.',
  fromLeft: 'From the left, m',
  fromFront: 'From the front, m',
  across: 'Across, m',
  name: 'Called',
  things: 'On it and around it',
  noThings: 'Nothing is on the plan yet.',
  put: { door: 'Door', pillar: 'Pillar', guests: 'Guests', band: 'Band', camera: 'Camera' } satisfies Record<
    Thing['kind'],
    string
  >,
  tap: (what: string): string => `${what}: tap the plan where it is.`,
  byNumbers: 'Put it down by numbers',
  letGo: 'Let go',
  takeAway: (thing: Thing): string => `Take ${thingWords(thing)} away`,
  side: 'They have the whole side that they stand nearest to.',
  begins: 'Where the dance begins',
  proposed: 'Nobody has said where: this is a proposal, the first found that fits.',
  keep: 'Keep the proposal',
  putBegin: 'Put it on the plan',
  facing: 'The lead faces',
  stride: 'Their step, cm',
  strideHint: (is: number | null): string =>
    is === null
      ? `Measure ten steps in hold and take a tenth. Until then ${usualStride * 100} cm.`
      : 'Ten steps in hold, a tenth of that.',
  notes: 'What to look at',
  fits: 'Nothing on the floor is in the way of the dance, as far as its steps tell.',
  looking: 'Seeing what fits…',
  print: 'Print',
  band: 'The wide band is where they are in about nine dances of ten, as far as the steps are known; numbers are where phrases begin.',
  inWords: 'phrase by phrase',
  front: 'front',
  camera: 'The dashed lines are what the camera sees of the closing pose.',
} as const;

export const putWords = Object.entries(words.put) as [Thing['kind'], string][];

/** "They come on from the garden door, 6 m and more, from 0:10 to 0:16." */
export const walkWords = ({ door, metres, from, to }: NonNullable<FloorPlan['walk']>): string =>
  `They come on from ${thingWords(door)}, ${metreWords(metres)} straight ahead, from ${clock(from)} to ${clock(to)}.`;

/** How the closing pose shows to one camera. */
export function shownWords({ camera, facing, hidden }: Shown, couple: Couple | null): string {
  const name = thingWords(camera);
  if (hidden) return `${capital(thingWords(hidden))} stands between ${name} and the closing pose.`;
  if (facing === null)
    return `Nobody has said how they stand to each other in the pose, so not what ${name} sees.`;
  if (!facing.isAway) return `${capital(name)} sees both faces of the closing pose.`;
  const two = couple ? [couple.one, couple.other] : [];
  const who = two.find(({ part }) => part === facing.who)?.name || `the ${facing.who}`;
  return `${capital(name)} has ${who}’s back in the closing pose.`;
}

/** "3, chorus, 1:04: 3.2 m from the left, 2 m from the front, the lead facing the front; known to 0.6 m" */
export function phraseWords({ number, section, at, place }: PhraseOnFloor): string {
  const eighth = ((Math.round(place.facing) % 8) + 8) % 8;
  const where = `${metreWords(place.x)} from the left, ${metreWords(place.y)} from the front`;
  return `${[`${number}`, section, clock(at)].filter(Boolean).join(', ')}: ${where}, the lead facing ${FACINGS[eighth]}; known to ${metreWords(place.within)}`;
}

/** All that the drawing shows, for who hears the page. */
export function planSentence(width: number, depth: number, things: readonly Thing[]): string {
  const on = things.length > 0 ? ` On it and around it: ${things.map(thingWords).join(', ')}.` : '';
  return `Plan of the floor, ${metreWords(width)} along the front and ${metreWords(depth)} deep.${on}`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
