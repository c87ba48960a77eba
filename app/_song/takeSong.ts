import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { usualPhraseBars } from '@/lib/core/areas/score.ts';
import { shiftedSong } from '@/lib/core/areas/shift.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import type { HeardSong } from '../_client/audioWork.ts';

/**
 * The one step that puts a song that was listened to into the plan: what was heard, its grid and sections, and the whole song
 * as its edit. What was confirmed or settled for another recording no longer holds; cue words and moves stay at their seconds. Of
 * another copy of the present recording, all that was made of it moves along.
 * @param ids one for each of the sections
 * @param fileName names the song where nobody has yet
 * @param later seconds by which it is another copy of the present recording; null where it is another recording
 */
export function songChanges(
  plan: Plan,
  song: HeardSong,
  ids: string[],
  fileName: string,
  later: number | null,
): PlanChange[] {
  const moved = later === null || plan.grid === null ? null : shiftedSong(plan, later);
  const title = titleOf(fileName);
  const named = plan.recordingWords !== null && plan.recordingWords.title !== '';
  return [
    { register: 'recording', value: song.recording },
    ...(named || title === ''
      ? []
      : [
          {
            register: 'recordingWords' as const,
            value: { artist: '', version: '', source: '', ...plan.recordingWords, title },
          },
        ]),
    { register: 'heard', value: song.heard },
    { register: 'features', value: song.features },
    { register: 'imprint', value: song.imprint },
    ...(moved ?? madeAnew(plan, song, ids)),
  ];
}

function madeAnew(plan: Plan, song: HeardSong, ids: string[]): PlanChange[] {
  return [
    { register: 'grid', value: song.grid },
    ...plan.sections.map(({ id }): PlanChange => ({ collection: 'sections', id, fields: null })),
    ...song.sections.map((fields, i): PlanChange => ({ collection: 'sections', id: ids[i]!, fields })),
    { register: 'phraseBars', value: song.grid ? usualPhraseBars(song.grid) : null },
    { register: 'edit', value: wholeSong },
  ];
}

/** `03 - Paper Boats.mp3` is the song Paper Boats. */
export const titleOf = (fileName: string): string =>
  fileName
    .replace(/\.[a-z0-9]{2,5}$/i, '')
    .replace(/^\d{1,2}[\s._-]+(?=\D)/, '')
    .replaceAll('_', ' ')
    .trim()
    .slice(0, 120);
