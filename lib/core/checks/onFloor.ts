import type { Board } from '../areas/board.ts';
import type { PlanChange } from '../areas/change.ts';
import type { Beginning, Floor } from '../dance/floor.ts';
import { beginningWords } from '../dance/floorWords.ts';
import { type Bound, beginningsFor, boundsOf, laidOnFloor, type Pose } from '../dance/onFloor.ts';
import { type Place, whereAt } from '../dance/path.ts';
import type { Danced, Draft, Fix } from './finding.ts';
import { placeOfCount } from './words.ts';

/** The dance on its floor. */
export interface OnFloor {
  floor: Floor;
  /** A person's, else the proposed one. */
  begins: Beginning;
  isProposed: boolean;
  /** The whole path as it lies on the floor. */
  places: Place[];
  /** Where the closing pose lands; null without one. */
  pose: Pose | null;
  /** Where else the dance could begin, the best first. */
  beginnings(): Beginning[];
}

/** One path, one floor: worked out once for all rules that ask. */
const known = new WeakMap<Place[], OnFloor>();

/** Null where nobody has said how large the floor is. */
export function onFloorOf({ plan, show }: Board, danced: Danced): OnFloor | null {
  const { path } = danced;
  const floor = show?.floor;
  if (!floor) return null;
  const before = known.get(path);
  if (before) return before;
  const pose = poseOf(danced);
  let all: Beginning[] | null = null;
  const beginnings = () => {
    all ??= beginningsFor(floor, path, pose);
    return all;
  };
  const begins = plan.beginsAt ?? beginnings()[0]!;
  const places = laidOnFloor(path, begins);
  const onFloor: OnFloor = {
    ...{ floor, begins, isProposed: plan.beginsAt === null, places, beginnings },
    pose: pose && { ...pose, place: laidOnFloor([pose.place], begins)[0]! },
  };
  known.set(path, onFloor);
  return onFloor;
}

/** In the frame of the path. */
function poseOf({ path, ending, walk }: Danced): Pose | null {
  const last = ending.ok ? ending.value.moves.at(-1) : undefined;
  if (!ending.ok || !last || !walk) return null;
  // Its step arrives with the count on which it lands.
  const place = whereAt(path, ending.value.landing.count - walk.firstStep + 0.5);
  return { place, position: last.move.positionAfter ?? null };
}

/** Fixes that begin the dance elsewhere, or facing elsewhere. */
export const beginFixes = ({ beginnings }: OnFloor): Fix[] =>
  beginnings().map((begins) => ({
    words: `Begin ${beginningWords(begins)}`,
    changes: [{ register: 'beginsAt', value: begins } satisfies PlanChange],
  }));

/** How a dance comes too near to something. */
interface Touch {
  bound: Bound;
  /** Where it is first too near for sure, else where it is nearest. */
  place: Place;
  /** Metres too near, at the worst place. */
  by: number;
  isSure: boolean;
}

/** What a dance comes too near to, as it is drawn: what may happen only because it is not sure is not told. */
export function touchesOf({ floor, places }: OnFloor): Touch[] {
  return boundsOf(floor).flatMap(({ bound, spare }): Touch[] => {
    let worst: Place | null = null;
    let sure: Place | null = null;
    let by = 0;
    for (const place of places) {
      const over = -spare(place);
      if (over <= UNNOTICED) continue;
      if (over > by) [worst, by] = [place, over];
      if (over > place.within) sure ??= place;
    }
    return worst ? [{ bound, place: sure ?? worst, by, isSure: sure !== null }] : [];
  });
}

/** Less than this nobody sees on a floor, metres; common practice, no source. */
const UNNOTICED = 0.05;

/** The place in the music of a place of the path. */
export function placeIn(danced: Danced, { at }: Place): Draft['place'] {
  return placeOfCount(danced.score, Math.floor((danced.walk?.firstStep ?? 0) + Math.max(0, at - 0.5)));
}
