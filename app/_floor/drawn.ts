import { type Floor, outlineOf } from '@/lib/core/dance/floor.ts';
import type { Spot } from '@/lib/core/dance/outline.ts';
import type { Place } from '@/lib/core/dance/path.ts';
import type { PhraseOnFloor } from '@/lib/core/handover/floorPlan.ts';

/** Pixels: how high a plan is at most, a metre of it, and what it keeps around the floor for what stands there. */
const MOST = { height: 620, metre: 110 };
const AROUND = 44;

/** From metres to the drawing's pixels and back. */
export interface Scale {
  width: number;
  height: number;
  /** Pixels a metre. */
  metre: number;
  to(spot: Spot): Spot;
  from(pixel: Spot): Spot;
}

/**
 * As large as there is room for it; the front at the foot. What stands off the floor is on the plan, too.
 * @param most pixels across
 */
export function scaleOf(floor: Floor, most: number): Scale {
  const all = [...outlineOf(floor), ...(floor.things ?? [])];
  const [xs, ys] = [all.map(({ x }) => x), all.map(({ y }) => y)];
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [front, back] = [Math.min(...ys), Math.max(...ys)];
  const metre = Math.min(
    MOST.metre,
    (most - 2 * AROUND) / (right - left),
    (MOST.height - 2 * AROUND) / (back - front),
  );
  return {
    width: Math.ceil((right - left) * metre + 2 * AROUND),
    height: Math.ceil((back - front) * metre + 2 * AROUND),
    metre,
    to: ({ x, y }) => ({ x: tenth(AROUND + (x - left) * metre), y: tenth(AROUND + (back - y) * metre) }),
    from: ({ x, y }) => ({ x: left + (x - AROUND) / metre, y: back - (y - AROUND) / metre }),
  };
}

export const tenth = (value: number): number => Math.round(value * 10) / 10;

/** Corners as SVG's `points`. */
export const pointsOf = (spots: readonly Spot[], { to }: Scale): string =>
  spots
    .map(to)
    .map(({ x, y }) => `${x},${y}`)
    .join(' ');

/** Metres within which two places of the band look alike. */
const ALIKE = 0.15;

/** Where they may be: of places next to each other one, the least sure. */
export function bandOf(places: readonly Place[]): Place[] {
  const found = new Map<string, Place>();
  for (const place of places) {
    const key = `${Math.round(place.x / ALIKE)} ${Math.round(place.y / ALIKE)}`;
    const before = found.get(key);
    if (!before || before.within < place.within) found.set(key, place);
  }
  return [...found.values()];
}

/** Places that differ from the one before: who stands draws no line. */
export const lineOf = (places: readonly Place[]): Place[] =>
  places.filter((place, i) => i === 0 || place.x !== places[i - 1]!.x || place.y !== places[i - 1]!.y);

/** Metres within which two beginnings of phrases have one mark. */
const TOGETHER = 0.45;

/** Beginnings of phrases, those that lie at one place under one mark: "1, 4 to 7". */
export function marksOf(phrases: readonly PhraseOnFloor[]): { place: Place; numbers: string }[] {
  const marks: { place: Place; numbers: number[] }[] = [];
  for (const { place, number } of phrases) {
    const near = marks.find((mark) => Math.hypot(mark.place.x - place.x, mark.place.y - place.y) < TOGETHER);
    if (near) near.numbers.push(number);
    else marks.push({ place, numbers: [number] });
  }
  return marks.map(({ place, numbers }) => ({ place, numbers: runsOf(numbers) }));
}

function runsOf(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const n of numbers) {
    const last = runs.at(-1);
    if (last && last[1] === n - 1) last[1] = n;
    else runs.push([n, n]);
  }
  return runs.map(([a, b]) => (a === b ? `${a}` : b === a + 1 ? `${a}, ${b}` : `${a} to ${b}`)).join(', ');
}

/** The two places at which lines from a camera touch the ring around a place: between them lies what it sees of it. */
export function touching(camera: Spot, place: Spot, ring: number): [Spot, Spot] | null {
  const [dx, dy] = [place.x - camera.x, place.y - camera.y];
  const far = Math.hypot(dx, dy);
  if (far <= ring) return null;
  const along = Math.sqrt(far * far - ring * ring) / far;
  const aside = ring / far;
  const at = (side: number): Spot => ({
    x: camera.x + along * (along * dx - side * aside * dy),
    y: camera.y + along * (along * dy + side * aside * dx),
  });
  return [at(1), at(-1)];
}
