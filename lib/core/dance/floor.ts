import { z } from '../zod.ts';
import { crosses, type Outline, roomiest, type Spot } from './outline.ts';

/** Metres on the plan of a floor, as guests at its front see it: `x` to the right, `y` away from the front, from its left corner. */
const metres = z.number().min(-100).max(200);
const spot = z.object({ x: metres, y: metres });

/** What stands on a floor or beside it. Guests and a band have the whole side of the floor that they are nearest to. */
export const thing = spot.extend({
  id: z.string().min(1).max(60),
  kind: z.enum(['door', 'pillar', 'guests', 'band', 'camera']),
  /** Metres across, of a pillar. */
  across: z.number().min(0).max(10),
  /** As people there call it: "the garden door". */
  name: z.string().max(60),
});
export type Thing = z.infer<typeof thing>;

/** The floor: metres, and what is on or around it. */
export const floor = z.object({
  /** Across its front, and away from it: of a floor that is no rectangle, as far as it reaches. */
  width: z.number().min(1).max(100),
  depth: z.number().min(1).max(100),
  surface: z.string().max(300),
  obstacles: z.string().max(300),
  guests: z.string().max(300),
  /** In order round the floor, where it is no rectangle. */
  corners: z.array(spot).min(3).max(24).optional(),
  things: z
    .array(thing)
    .max(40)
    .refine((all) => new Set(all.map(({ id }) => id)).size === all.length, 'two have one id')
    .optional(),
});
export type Floor = z.infer<typeof floor>;

/** Where a dance begins: the couple's middle, and how the lead faces, in eighths of a turn to the right from away from the front. */
export const beginning = spot.extend({ facing: z.int().min(0).max(7) });
export type Beginning = z.infer<typeof beginning>;

/** Metres of the couple's step. */
export const stride = z.number().min(0.2).max(1);

export const outlineOf = ({ corners, width, depth }: Floor): Outline =>
  corners ?? [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: depth },
    { x: 0, y: depth },
  ];

export const thingsOf = (floor: Floor, kind: Thing['kind']): Thing[] =>
  floor.things?.filter((one) => one.kind === kind) ?? [];

const NOTHING_SAID = { surface: '', obstacles: '', guests: '' };

/** A floor of this size, everything else as before: another size makes it a rectangle. */
export function sized(before: Floor | null, width: number, depth: number): Floor {
  const { corners, ...rest }: Omit<Floor, 'width' | 'depth'> = before ?? NOTHING_SAID;
  const isSame = before?.width === width && before.depth === depth;
  return { ...rest, width, depth, ...(isSame && corners && { corners }) };
}

/** A floor with these corners, its size as far as they reach. */
export function cornered(before: Floor, corners: readonly Spot[]): Floor {
  const reach = (values: number[]) => Math.round(100 * (Math.max(...values) - Math.min(...values))) / 100;
  return {
    ...before,
    width: reach(corners.map(({ x }) => x)),
    depth: reach(corners.map(({ y }) => y)),
    corners: [...corners],
  };
}

const known = new WeakMap<Floor, ReturnType<typeof roomiest>>();

/** The middle of the floor: the place with the most room, and the metres from there to the nearest edge. */
export function middleOf(floor: Floor): { at: Spot; toEdge: number } {
  const before = known.get(floor);
  if (before) return before;
  const found = roomiest(outlineOf(floor));
  known.set(floor, found);
  return found;
}

/** Metres across of the largest ring that the floor holds, to the centimetre: a figure that needs more has no place on it. */
export const acrossOf = (floor: Floor): number => Math.round(200 * middleOf(floor).toEdge) / 100;

/** A decimetre is as fine as anybody draws a floor. */
export const toDecimetre = ({ x, y }: Spot): Spot => ({
  x: Math.round(x * 10) / 10,
  y: Math.round(y * 10) / 10,
});

/** The same floor with one corner elsewhere; as it was where sides would cross, or it would be too small or large. */
export function withCornerAt(before: Floor, corner: number, at: Spot): Floor {
  const corners = outlineOf(before).map((one, i) => (i === corner ? toDecimetre(at) : one));
  return drawn(before, corners);
}

/** With another corner in the middle of the side that begins at this one. */
export function withCornerAfter(before: Floor, corner: number): Floor {
  const outline = outlineOf(before);
  const [a, b] = [outline[corner]!, outline[(corner + 1) % outline.length]!];
  const middle = toDecimetre({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
  return drawn(before, [...outline.slice(0, corner + 1), middle, ...outline.slice(corner + 1)]);
}

export const withoutCorner = (before: Floor, corner: number): Floor =>
  drawn(
    before,
    outlineOf(before).filter((_, i) => i !== corner),
  );

function drawn(before: Floor, corners: readonly Spot[]): Floor {
  const next = cornered(before, corners);
  return crosses(corners) || !floor.safeParse(next).success ? before : next;
}

/** With a thing put down, moved or described anew. */
export function withThing(before: Floor, thing: Thing): Floor {
  const things = before.things ?? [];
  const is = { ...thing, ...toDecimetre(thing) };
  return {
    ...before,
    things: things.some(({ id }) => id === is.id)
      ? things.map((one) => (one.id === is.id ? is : one))
      : [...things, is],
  };
}

export const withoutThing = (before: Floor, id: string): Floor => ({
  ...before,
  things: before.things?.filter((one) => one.id !== id) ?? [],
});

/** Metres across of a pillar that nobody has measured: common practice, no source. */
const PILLAR = 0.5;

/**
 * Something new on a floor, where somebody put it; else where such things mostly are: a pillar in the middle, guests at the front, a
 * band opposite, a camera at the front's corner, a door on the left.
 */
export function newThing(id: string, kind: Thing['kind'], { width, depth }: Floor, at?: Spot): Thing {
  const usual: Record<Thing['kind'], Spot> = {
    door: { x: 0, y: depth / 2 },
    pillar: { x: width / 2, y: depth / 2 },
    guests: { x: width / 2, y: 0 },
    band: { x: width / 2, y: depth },
    camera: { x: width, y: 0 },
  };
  return { id, kind, name: '', across: kind === 'pillar' ? PILLAR : 0, ...toDecimetre(at ?? usual[kind]) };
}
