import type { Plan } from '../areas/plan.ts';
import { fadeDb } from '../dance/fade.ts';
import { storedAt } from '../dance/place.ts';
import type { FloorCount } from '../edit/score.ts';
import { isStruck } from '../song/attacks.ts';
import { recordTime } from '../units.ts';
import type { Danced, Fix } from './finding.ts';
import { quoted } from './words.ts';

/** Music this far down is still well heard, dB; common practice, no source. */
export const WELL_HEARD = -9;

/** Whether the music is still there, and well heard, when a count comes. */
function isHeard(plan: Plan, { score }: Danced, at: FloorCount): boolean {
  const db = fadeDb(plan.edit, score, at.floor);
  return at.floor <= score.musicLength && (db === null || db >= WELL_HEARD);
}

/**
 * Whether something is still played in the bar that a count opens. After the last chord counts go on while it rings, and nobody
 * hears them. Where it is unknown what was heard, a count beyond the last beat is no such count.
 */
function isPlayed(plan: Plan, { score, heard }: Danced, at: FloorCount): boolean {
  if (heard === null) return !at.assumed;
  const bar = Math.min(score.countsPerBar * score.interval, score.musicLength - at.floor);
  return isStruck(heard, at.record, recordTime(at.record + bar), plan.heard?.loudness ?? null);
}

const opensBar = (at: FloorCount): boolean => at.inBar === 0 && !at.pickUp;

/** The count that opens the last bar in which something is played, heard or not; null when there is none. */
export const lastPlayed = (plan: Plan, danced: Danced): FloorCount | null =>
  danced.score.counts.findLast((c) => opensBar(c) && isPlayed(plan, danced, c)) ?? null;

/** The last count that opens a bar and is well heard. */
export const lastStrong = (plan: Plan, danced: Danced): FloorCount | null =>
  danced.score.counts.findLast((c) => opensBar(c) && isHeard(plan, danced, c) && isPlayed(plan, danced, c)) ??
  null;

/** Fixes that give the closing pose a place that is heard: the last cue words, then the last strong counts. */
export function landingFixes(plan: Plan, danced: Danced): Fix[] {
  const { score } = danced;
  const ending = plan.ending!;
  const last = lastStrong(plan, danced)?.index ?? -1;
  const strong = score.counts.filter((c) => c.index <= last && opensBar(c) && isHeard(plan, danced, c));
  const half = score.interval / 2;
  // A word from the middle of the song is no ending.
  const byWord = strong
    .slice(-8)
    .flatMap((c) => plan.cues.filter(({ at }) => Math.abs(at - c.record) < Math.min(half, 0.2)))
    .slice(-1)
    .map(
      (cue): Fix => ({
        words: `Land on ${quoted(cue.word)}`,
        changes: [
          { register: 'ending', value: { ...ending, target: { kind: 'cue word', at: cue.at, cue: cue.id } } },
        ],
      }),
    );
  const byCount = strong
    .slice(-3)
    .reverse()
    .map(
      (c): Fix => ({
        words: 'Land on the last strong count that is well heard',
        changes: [
          {
            register: 'ending',
            value: {
              ...ending,
              target: { kind: 'last strong count', at: storedAt(score, c.index), cue: null },
            },
          },
        ],
      }),
    );
  return [...byWord, ...byCount];
}
