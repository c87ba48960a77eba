import { floorOf } from '@/lib/core/dance/clock.ts';
import type { DancePlan } from '@/lib/core/dance/plan.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { Cue } from '@/lib/core/song/section.ts';
import { countAtTime, type SheetRow } from './layout.ts';

/**
 * The cue that opens a row: the nearest to its first count, from a pick-up of up to one count before it to the end of its
 * first bar. A cue opens one row only. Those later in the row are heard inside of it.
 */
export function cuesInRow(
  plan: DancePlan,
  score: FloorScore,
  row: SheetRow,
): { cue: Cue | null; words: { id: string; at: number; word: string }[] } {
  const { first, counts } = row;
  const pickUp = first === 0 ? 1e6 : 1.05;
  const heard = plan.cues.flatMap((cue) => {
    const floor = floorOf(plan, cue.at);
    if (floor === null) return [];
    if (row.kind === 'free') {
      return floor >= row.floor && floor < row.end ? [{ cue, at: first }] : [];
    }
    const at = countAtTime(score, floor);
    return at >= first - pickUp && at < first + counts - (lastOf(score, row) ? -1e6 : 1.05)
      ? [{ cue, at }]
      : [];
  });
  const opening = heard
    .filter(({ at }) => at < first + Math.min(score.countsPerBar, counts) - 0.5 || row.kind === 'free')
    .sort((a, b) => Math.abs(a.at - first) - Math.abs(b.at - first))[0];
  const words = heard
    .filter((one) => one !== opening && one.at >= first)
    .map(({ cue, at }) => ({ id: cue.id, at, word: cue.word }))
    .sort((a, b) => a.at - b.at);
  return { cue: opening?.cue ?? null, words };
}

/** Nothing comes after it that a late word could open. */
const lastOf = (score: FloorScore, row: SheetRow): boolean => row.first + row.counts >= score.counts.length;
