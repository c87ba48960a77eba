import type { Board } from '../areas/board.ts';
import { type OnFloor, onFloorOf } from '../checks/onFloor.ts';
import { dancedOf } from '../checks/sight.ts';
import { type Beginning, type Floor, type Thing, thingsOf } from '../dance/floor.ts';
import { type Facing, facingAway, hiddenBy, wayOn } from '../dance/onFloor.ts';
import type { Spot } from '../dance/outline.ts';
import { type Place, whereAt } from '../dance/path.ts';
import { usualWalkOn } from '../dance/walkOn.ts';
import type { FloorScore } from '../edit/score.ts';
import type { FloorTime } from '../units.ts';
import { countAtTime } from './sheetRows.ts';

/** A phrase, as it begins on the floor. */
export interface PhraseOnFloor {
  /** From 1, as it is numbered on the plan. */
  number: number;
  at: FloorTime;
  section: string;
  place: Place;
}

/** How the closing pose shows to a camera. */
export interface Shown {
  camera: Thing;
  /** Null where nobody said how the two stand to each other. */
  facing: Facing | null;
  hidden: Thing | null;
}

/** A dance on its floor, as it is drawn. */
export interface FloorPlan {
  floor: Floor;
  begins: Beginning;
  isProposed: boolean;
  /** From the first step on, a place for each half count. */
  places: Place[];
  /** The count of the first step. */
  first: number;
  phrases: PhraseOnFloor[];
  /** Where they come from, and when; the metres are straight ahead. Null where they begin in place, or come from no door of the plan. */
  walk: { door: Thing; metres: number; from: FloorTime; to: FloorTime } | null;
  pose: { place: Place; at: FloorTime; shown: Shown[] } | null;
}

/** Null where nobody has said how large the floor is, or the song has no counts yet. */
export function floorPlanOf(board: Board, score: FloorScore | null): FloorPlan | null {
  const { plan } = board;
  const danced = dancedOf(plan, score, null);
  const onFloor = danced && onFloorOf(board, danced);
  if (!danced || !onFloor || !score) return null;
  const { floor, begins, isProposed, places } = onFloor;
  const { walk, ending } = danced;
  const first = walk?.firstStep ?? 0;
  const walkOn = plan.walkOn ?? usualWalkOn;
  const way = walkOn.how === 'in place' ? null : wayOn(floor, begins, walkOn.from);
  const last = first + places.at(-1)!.at;
  return {
    ...{ floor, begins, isProposed, places, first },
    phrases: score.phrases
      .map((phrase, i) => ({ phrase, number: i + 1 }))
      .filter(({ phrase }) => phrase.counts > 0 && phrase.first >= first && phrase.first < last)
      .map(({ phrase, number }) => ({
        ...{ number, at: phrase.floor, section: score.sections[phrase.section]?.name ?? '' },
        place: whereAt(places, phrase.first - first),
      })),
    walk: way && walk ? { ...way, from: walk.comeOnAt, to: walk.firstStepAt } : null,
    pose: ending.ok && onFloor.pose ? poseOf(onFloor, onFloor.pose, ending.value.landing.floor) : null,
  };
}

const poseOf = (
  { floor }: OnFloor,
  { place, position }: NonNullable<OnFloor['pose']>,
  at: FloorTime,
): FloorPlan['pose'] => ({
  ...{ place, at },
  shown: thingsOf(floor, 'camera').map((camera) => ({
    camera,
    facing: facingAway(place, position, camera),
    hidden: hiddenBy(floor, camera, place),
  })),
});

/** Where the couple are at a moment of the music: on their way from the door, dancing, or in their pose. */
export function placeWhen(plan: FloorPlan, score: FloorScore, at: FloorTime): Place {
  const { walk, places, first, pose } = plan;
  const begins = places[0]!;
  if (pose && at >= pose.at) return pose.place;
  if (walk && at < walk.to) {
    const share = Math.max(0, Math.min(1, (at - walk.from) / (walk.to - walk.from || 1)));
    return { ...begins, ...between(walk.door, begins, share) };
  }
  const here = Math.max(0, (countAtTime(score, at) - first - begins.at) * 2);
  const before = places[Math.min(places.length - 1, Math.floor(here))]!;
  const after = places[Math.min(places.length - 1, Math.floor(here) + 1)]!;
  const share = here - Math.floor(here);
  return {
    ...before,
    ...between(before, after, share),
    facing: before.facing + (after.facing - before.facing) * share,
    within: before.within + (after.within - before.within) * share,
  };
}

const between = (a: Spot, b: Spot, share: number): Spot => ({
  x: a.x + (b.x - a.x) * share,
  y: a.y + (b.y - a.y) * share,
});
