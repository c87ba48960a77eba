import {
  type Beginning,
  type Floor,
  middleOf,
  outlineOf,
  type Thing,
  thingsOf,
  toDecimetre,
} from './floor.ts';
import type { Position } from './move.ts';
import { type Outline, type Spot, sideAt, toEdge, toSide } from './outline.ts';
import { type Place, turned } from './path.ts';
import { BETWEEN } from './stance.ts';

/** Metres from the couple's middle to the outside of the two, elbows included: as in the room of the figures. Common practice, no source. */
export const HALF_COUPLE = 0.5;
/** Metres that a couple keeps from a pillar, and from guests or a band, whom an arm or a hem would reach. Common practice, no source. */
export const KEPT_FROM: Record<'pillar' | 'guests' | 'band', number> = {
  pillar: 0.3,
  guests: 0.5,
  band: 0.5,
};
/** How near people stand to where they were told to begin, metres and radians. Common practice, no source. */
const BEGINS_WITHIN = 0.3;
const FACES_WITHIN = Math.PI / 18;
const EIGHTH = Math.PI / 4;

/** A path as it lies on the floor: metres of its plan, facing in eighths to the right from away from the front. */
export function laidOnFloor(path: readonly Place[], begins: Beginning): Place[] {
  return path.map(({ at, x, y, facing, within, aside }) => {
    const goes = turned(x, y, begins.facing);
    return {
      at,
      x: begins.x + goes.x,
      y: begins.y + goes.y,
      facing: begins.facing + facing,
      within: Math.hypot(within, BEGINS_WITHIN, FACES_WITHIN * Math.hypot(x, y)),
      aside: Math.min(4, Math.hypot(aside, FACES_WITHIN / EIGHTH)),
    };
  });
}

/** What a couple must not come near to, and how far a place is from it, its own half taken off; below nothing is too near. */
export type Bound = { of: 'edge' } | { of: 'pillar' | 'guests' | 'band'; thing: Thing };

/** All that bounds a dance on a floor. */
export function boundsOf(floor: Floor): { bound: Bound; spare(at: Spot): number }[] {
  const outline = outlineOf(floor);
  const beside = (kind: 'guests' | 'band') =>
    thingsOf(floor, kind).map((thing) => {
      const [a, b] = sideOf(outline, thing);
      const spare = (at: Spot) => toSide(at, a, b) - HALF_COUPLE - KEPT_FROM[kind];
      return { bound: { of: kind, thing } as const, spare };
    });
  return [
    { bound: { of: 'edge' }, spare: (at) => toEdge(outline, at) - HALF_COUPLE },
    ...thingsOf(floor, 'pillar').map((thing) => ({
      bound: { of: 'pillar', thing } as const,
      spare: ({ x, y }: Spot) =>
        Math.hypot(x - thing.x, y - thing.y) - thing.across / 2 - HALF_COUPLE - KEPT_FROM.pillar,
    })),
    ...beside('guests'),
    ...beside('band'),
  ];
}

/** The side that guests or a band have. */
export function sideOf(outline: Outline, thing: Spot): [Spot, Spot] {
  const side = sideAt(outline, thing);
  return [outline[side]!, outline[(side + 1) % outline.length]!];
}

/** The closing pose: its place in the path, and how the two stand to each other, where that is known. */
export interface Pose {
  place: Place;
  position: Position | null;
}

/** Metres between places that are alike for finding where to begin, and by which a beginning is moved while that gives more room. */
const ALIKE = 0.1;
const MOVES = [1, 0.5, 0.2];
/** The lead's facings that are tried, those to the front and away from it before those across and aslant. */
const FACINGS = [4, 0, 2, 6, 3, 5, 1, 7];

/** A beginning that is tried, and how a dance from there comes too near to something. */
interface Tried {
  at: Spot;
  facing: number;
  /** Metres to spare at the narrowest place; below nothing it does not fit. */
  spare: number;
  spareAt(at: Spot): number;
}

/**
 * Where a dance could begin, one place for each facing, the best first: such as keep it on the floor and away from all that is on it;
 * of these such as show the pose's faces to the camera; of these the facings to the front and away from it before those aslant. Each
 * is tried with the dance in the middle of the floor; where none fits there, moved about from there: there may be better ones.
 */
export function beginningsFor(floor: Floor, path: readonly Place[], pose: Pose | null): Beginning[] {
  const camera = thingsOf(floor, 'camera')[0];
  const inMiddle = triedInMiddle(floor, path);
  const tried = inMiddle.some(({ spare }) => spare >= 0) ? inMiddle : inMiddle.map(movedAbout);
  return tried
    .map(({ at, facing, spare }, i) => {
      const begins: Beginning = { ...at, facing };
      const shown =
        pose && camera && facingAway(laidOnFloor([pose.place], begins)[0]!, pose.position, camera);
      return { begins, lacks: Math.max(0, -spare), isTurned: shown?.isAway ?? false, i };
    })
    .sort((a, b) => a.lacks - b.lacks || Number(a.isTurned) - Number(b.isTurned) || a.i - b.i)
    .map(({ begins }) => begins);
}

function triedInMiddle(floor: Floor, path: readonly Place[]): Tried[] {
  const bounds = boundsOf(floor);
  const spots = distinct(path);
  const middle = middleOf(floor).at;
  return FACINGS.map((facing) => {
    const ways = spots.map(({ x, y }) => turned(x, y, facing));
    const spareAt = (begins: Spot): number => {
      let least = Number.POSITIVE_INFINITY;
      for (const way of ways) {
        const at = { x: begins.x + way.x, y: begins.y + way.y };
        for (const { spare } of bounds) least = Math.min(least, spare(at));
      }
      return least;
    };
    const at = toDecimetre({
      x: middle.x - centre(ways.map(({ x }) => x)),
      y: middle.y - centre(ways.map(({ y }) => y)),
    });
    return { at, facing, spare: spareAt(at), spareAt };
  });
}

/** The same, moved in shorter and shorter steps to where there is more room, until it fits. */
function movedAbout(from: Tried): Tried {
  let { at, spare } = from;
  for (const step of MOVES) {
    for (let again = true; again; ) {
      again = false;
      for (let way = 0; way < 8 && spare < 0; way++) {
        const [x, y] = [Math.sin(way * EIGHTH), Math.cos(way * EIGHTH)];
        const next = toDecimetre({ x: at.x + step * x, y: at.y + step * y });
        const then = from.spareAt(next);
        if (then <= spare) continue;
        [at, spare] = [next, then];
        again = true;
      }
    }
  }
  return { ...from, at, spare };
}

const centre = (values: readonly number[]): number => (Math.min(...values) + Math.max(...values)) / 2;

/** The places of a path, of those next to each other one. */
function distinct(path: readonly Place[]): Spot[] {
  const found = new Map(
    path.map(({ x, y }) => [`${Math.round(x / ALIKE)} ${Math.round(y / ALIKE)}`, { x, y }]),
  );
  return [...found.values()];
}

/** From how far round a face is no longer seen, eighths of a turn: three quarters of the way to its back. Common practice, no source. */
const AWAY = 3;

/** How a pose shows to a camera. */
export interface Facing {
  /** Whose face is furthest from it, and by how many eighths of a turn: 0 looks into it, 4 has the back to it. */
  who: 'lead' | 'follow';
  off: number;
  /** It is not seen. */
  isAway: boolean;
  /** Eighths by which that may be otherwise. */
  aside: number;
}

/** Null where nobody said how the two stand to each other. */
export function facingAway(place: Place, position: Position | null, camera: Spot): Facing | null {
  if (position === null) return null;
  const towards = Math.atan2(camera.x - place.x, camera.y - place.y) / EIGHTH;
  const off = (facing: number) => {
    const turn = (((towards - facing) % 8) + 8) % 8;
    return Math.min(turn, 8 - turn);
  };
  const [lead, follow] = [off(place.facing), off(place.facing + BETWEEN[position])];
  const [who, most] = lead > follow ? (['lead', lead] as const) : (['follow', follow] as const);
  return { who, off: most, isAway: most > AWAY, aside: place.aside };
}

/** The pillar that stands between the camera and a place; null where none does. */
export function hiddenBy(floor: Floor, camera: Spot, place: Spot): Thing | null {
  return (
    thingsOf(floor, 'pillar').find((pillar) => toSide(pillar, camera, place) < pillar.across / 2) ?? null
  );
}

/**
 * The way to where the dance begins: from the door that the walk-on names, or from the nearest where it names nothing. Straight, so
 * at least so far. Null where they come from elsewhere.
 */
export function wayOn(floor: Floor, begins: Spot, from: string): { door: Thing; metres: number } | null {
  const named = from.trim().toLowerCase();
  const far = ({ x, y }: Spot) => Math.hypot(x - begins.x, y - begins.y);
  const doors = thingsOf(floor, 'door')
    .filter(({ name }) => named === '' || name.trim().toLowerCase() === named)
    .map((door) => ({ door, metres: far(door) }))
    .sort((a, b) => a.metres - b.metres);
  return doors[0] ?? null;
}
