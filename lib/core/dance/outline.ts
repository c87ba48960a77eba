/** A place on a plan, in metres. */
export interface Spot {
  x: number;
  y: number;
}
/** Corners of a floor in order, either way round; each side goes from one to the next, the last back to the first. */
export type Outline = readonly Spot[];

/** Metres from a place to the nearest point of a side. */
export function toSide({ x, y }: Spot, a: Spot, b: Spot): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const square = dx * dx + dy * dy;
  const along = square === 0 ? 0 : ((x - a.x) * dx + (y - a.y) * dy) / square;
  const t = Math.max(0, Math.min(1, along));
  return Math.hypot(x - a.x - t * dx, y - a.y - t * dy);
}

/** Whether a place lies on the floor: a line from it to one side crosses the outline an odd number of times. */
function isInside(outline: Outline, { x, y }: Spot): boolean {
  let inside = false;
  for (let i = 0, k = outline.length - 1; i < outline.length; k = i++) {
    const [a, b] = [outline[i]!, outline[k]!];
    if (a.y > y !== b.y > y && x < ((b.x - a.x) * (y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
}

/** Metres to the edge; below nothing outside of it. */
export function toEdge(outline: Outline, at: Spot): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0, k = outline.length - 1; i < outline.length; k = i++)
    least = Math.min(least, toSide(at, outline[k]!, outline[i]!));
  return isInside(outline, at) ? least : -least;
}

/** The side that a place is nearest to, as the number of the corner at which it begins. */
export function sideAt(outline: Outline, at: Spot): number {
  const far = (i: number) => toSide(at, outline[i]!, outline[(i + 1) % outline.length]!);
  return outline.reduce((best, _, i) => (far(i) < far(best) ? i : best), 0);
}

/** Whether two sides cross, so that nobody could say what is floor. */
export function crosses(outline: Outline): boolean {
  const n = outline.length;
  const turn = (a: Spot, b: Spot, c: Spot) => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  const isBetween = (a: Spot, b: Spot, c: Spot, d: Spot) => turn(a, b, c) * turn(a, b, d) < 0;
  for (let i = 0; i < n; i++) {
    for (let k = i + 2; k < n; k++) {
      if (i === 0 && k === n - 1) continue;
      const [a, b, c, d] = [outline[i]!, outline[i + 1]!, outline[k]!, outline[(k + 1) % n]!];
      if (isBetween(a, b, c, d) && isBetween(c, d, a, b)) return true;
    }
  }
  return false;
}

/** Places that are tried on each axis, and metres to which the best is then found. */
const TRIED = 16;
const FINE = 0.005;

/**
 * The place with the most room around it, and that room. Of a rectangle, or whatever is as roomy there as anywhere, its centre; else
 * the best of a raster, moved on as long as that gives more room.
 */
export function roomiest(outline: Outline): { at: Spot; toEdge: number } {
  const [xs, ys] = [outline.map(({ x }) => x), outline.map(({ y }) => y)];
  const [left, front] = [Math.min(...xs), Math.min(...ys)];
  const [width, depth] = [Math.max(...xs) - left, Math.max(...ys) - front];
  const of = (at: Spot) => ({ at, toEdge: toEdge(outline, at) });
  const centre = of({ x: left + width / 2, y: front + depth / 2 });
  let best = centre;
  for (let i = 1; i < TRIED; i++) {
    for (let k = 1; k < TRIED; k++) {
      const one = of({ x: left + (width * i) / TRIED, y: front + (depth * k) / TRIED });
      if (one.toEdge > best.toEdge + FINE) best = one;
    }
  }
  for (let step = Math.max(width, depth) / TRIED; step > FINE; step /= 2) {
    for (let again = true; again; ) {
      again = false;
      for (let way = 0; way < 16; way++) {
        const angle = (way * Math.PI) / 8;
        const one = of({ x: best.at.x + step * Math.cos(angle), y: best.at.y + step * Math.sin(angle) });
        if (one.toEdge > best.toEdge + FINE / 10) {
          best = one;
          again = true;
        }
      }
    }
  }
  return best.toEdge > centre.toEdge + FINE ? best : centre;
}
