import { songDuration } from '../dance/clock.ts';
import type { DancePlan } from '../dance/plan.ts';
import { compileEdit } from '../edit/compile.ts';
import { wholeSong } from '../edit/edit.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Cue } from '../song/section.ts';
import type { FloorTime } from '../units.ts';
import { countAtTime, type SheetRow } from './sheetRows.ts';

/** Of a row, or a whole phrase, what its cues go by. */
type Stretch = Pick<SheetRow, 'kind' | 'first' | 'counts' | 'floor' | 'end'>;

/** A cue that is heard as danced: when, and where that lies on the axis of counts. */
interface HeardCue {
  cue: Cue;
  floor: FloorTime;
  at: number;
}

/** The cues that the edit keeps, worked out once for all rows. */
export function heardCues(plan: DancePlan, score: FloorScore): HeardCue[] {
  const { toFloor } = compileEdit(plan.edit ?? wholeSong, { duration: songDuration(plan) });
  return plan.cues.flatMap((cue) => {
    const floor = toFloor(cue.at);
    return floor === null ? [] : [{ cue, floor, at: countAtTime(score, floor) }];
  });
}

/**
 * The cue that opens a row: the nearest to its first count, from a pick-up of up to one count before it to the end of its
 * first bar. A cue opens one row only. Those later in the row are heard inside of it.
 */
export function cuesInRow(
  cues: readonly HeardCue[],
  score: FloorScore,
  row: Stretch,
): { cue: Cue | null; words: { id: string; at: number; word: string }[] } {
  const { first, counts } = row;
  const pickUp = first === 0 ? 1e6 : 1.05;
  const heard = cues.flatMap(({ cue, floor, at }) => {
    if (row.kind === 'free') {
      return floor >= row.floor && floor < row.end ? [{ cue, at: first }] : [];
    }
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
const lastOf = (score: FloorScore, row: Stretch): boolean => row.first + row.counts >= score.counts.length;
