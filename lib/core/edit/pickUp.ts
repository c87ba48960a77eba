import type { Grid } from '../song/grid.ts';
import type { Pair, Part } from './form.ts';
import { beatLikeness, type Rises } from './softBeat.ts';

/** So much less alike are two beats of which one is a pick-up and one is not, 0 to 1. A choice, tried on made songs. */
const UNLIKE = 0.2;

/**
 * Whether a pair is better joined a beat before its bar lines: what is sung or played in that beat belongs to a phrase that comes
 * (to the one played, which would lose its beginning, or to the one left out, of which a scrap would be left), and the two places
 * have not the same figure there. That a beat belongs to what comes is told by its coming before the same music elsewhere in the
 * song, where other music went before.
 * @param leadingTo what is heard in the beats before a bar line
 */
export function joinsAtPickUp(
  { from, to }: Pair,
  parts: readonly Part[],
  leadingTo: (at: number) => Rises,
): boolean {
  if (from.phrase > 0 || to.phrase > 0) return false;
  const [a, b] = [leadingTo(from.at), leadingTo(to.at)];
  const last = lastBeat(a, b);
  const usual = (beatLikeness(a, b, -2) + beatLikeness(a, b, -3)) / 2;
  if (last > usual - UNLIKE) return false;
  const leadsOn = (part: number) =>
    likeStarts(part, parts).some(
      (at) => lastBeat(leadingTo(parts[part]!.start), leadingTo(at)) >= last + UNLIKE,
    );
  return leadsOn(to.part) || leadsOn(from.part);
}

/** Where the same music begins as in a part, after other music than there. */
function likeStarts(part: number, parts: readonly Part[]): number[] {
  const before = parts[part - 1];
  return parts.flatMap(({ like, start }, k) => {
    const otherBefore = parts[k - 1];
    const same = k !== part && like === parts[part]!.like;
    return same && before && otherBefore && otherBefore.like !== before.like ? [start] : [];
  });
}

const lastBeat = (a: Rises, b: Rises): number => beatLikeness(a, b, -1);

/** The beat before a bar line, seconds; the line itself where the grid has none. */
export function beatBefore({ beats }: Grid, line: number): number {
  const at = beats.findLastIndex((beat) => beat < line - 1e-6);
  return beats[at] ?? line;
}
