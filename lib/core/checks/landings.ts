import type { Plan } from '../areas/plan.ts';
import { fadeDb } from '../dance/fade.ts';
import { storedAt } from '../dance/place.ts';
import type { FloorCount } from '../edit/score.ts';
import type { Danced, Fix } from './finding.ts';
import { quoted } from './words.ts';

/** Music this far down is still well heard, dB; common practice, no source. */
export const WELL_HEARD = -9;

/** Whether the music is still there, and well heard, when a count comes. */
function isHeard(plan: Plan, { score }: Danced, at: FloorCount): boolean {
  const db = fadeDb(plan.edit, score, at.floor);
  return at.floor <= score.musicLength && (db === null || db >= WELL_HEARD);
}

/** The last count that opens a bar and is well heard. */
export const lastStrong = (plan: Plan, danced: Danced): FloorCount | null =>
  danced.score.counts.findLast((c) => c.inBar === 0 && !c.pickUp && isHeard(plan, danced, c)) ?? null;

/** Fixes that give the closing pose a place that is heard: the last cue words, then the last strong counts. */
export function landingFixes(plan: Plan, danced: Danced): Fix[] {
  const { score } = danced;
  const ending = plan.ending!;
  const strong = score.counts.filter((c) => c.inBar === 0 && !c.pickUp && isHeard(plan, danced, c));
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
