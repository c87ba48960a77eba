import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import { heardOf } from '@/lib/core/checks/heard.ts';
import { lastStrong } from '@/lib/core/checks/landings.ts';
import { sightOf } from '@/lib/core/checks/sight.ts';
import { floorOf, songDuration } from '@/lib/core/dance/clock.ts';
import type { Ending } from '@/lib/core/dance/move.ts';
import { storedAt } from '@/lib/core/dance/place.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import { type FloorTime, floorTime, recordTime, wholeMicros } from '@/lib/core/units.ts';

type Target = Ending['target'];

/** The last count that opens a bar and is well heard; null when there is none. */
export function lastStrongTarget(board: Board, score: FloorScore, today: Day): Target | null {
  const { danced } = sightOf(board, score, heardOf(board.plan), today);
  const strong = danced && lastStrong(board.plan, danced);
  return strong ? { kind: 'last strong count', at: storedAt(score, strong.index), cue: null } : null;
}

/** A time of the music as played, as a target; null beyond its end. */
export function timeTarget(board: Board, seconds: number): Target | null {
  const compiled = compileEdit(board.plan.edit ?? wholeSong, { duration: songDuration(board.plan) });
  if (seconds < 0 || seconds > compiled.length) return null;
  const at = compiled.toRecord(floorTime(seconds));
  return { kind: 'time', at: recordTime(wholeMicros(at)), cue: null };
}

/** Cue words that are played, the last ones first: an ending lies at the end. */
export function wordsForLanding({ plan }: Board): { id: string; word: string; floor: FloorTime }[] {
  return plan.cues
    .flatMap(({ id, word, at }) => {
      const floor = floorOf(plan, at);
      return floor === null ? [] : [{ id, word, floor }];
    })
    .sort((a, b) => b.floor - a.floor);
}
