import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { usualPhraseBars } from '@/lib/core/areas/score.ts';
import { danceInto, songInto } from '@/lib/core/areas/shift.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import type { Places } from '@/lib/core/song/places.ts';
import type { HeardSong } from '../_client/audioWork.ts';

/**
 * The one step that puts a song that was listened to into the plan. Where it shows all of the music that is there, all that was made
 * of that moves along; else it gets beats, sections and the whole song as its edit, and of what hangs on moments of the one before
 * only what has a place in it stays. What names the one before goes with it.
 * @param ids one for each of the sections
 * @param fileName names the song
 * @param places of the present recording's moments in the song
 */
export const songChanges = (
  plan: Plan,
  song: HeardSong,
  ids: string[],
  fileName: string,
  places: Places,
): PlanChange[] => [
  { register: 'recording', value: song.recording },
  ...wordsOf(plan, titleOf(fileName), places),
  { register: 'heard', value: song.heard },
  { register: 'features', value: song.features },
  { register: 'imprint', value: song.imprint },
  ...((plan.grid === null ? null : songInto(plan, places)) ?? madeAnew(plan, song, ids)),
  // Without a recording they were set for the one to come.
  ...(plan.recording === null ? [] : danceInto(plan, places)),
];

function wordsOf({ recording, recordingWords: words }: Plan, title: string, places: Places): PlanChange[] {
  const another = recording !== null && !places.whole;
  const named = words !== null && words.title !== '';
  if (!another && (named || title === '')) return [];
  const rest = { artist: '', version: '', source: '', ...(another ? {} : words) };
  return [{ register: 'recordingWords', value: { ...rest, title } }];
}

function madeAnew(plan: Plan, song: HeardSong, ids: string[]): PlanChange[] {
  return [
    { register: 'grid', value: song.grid },
    ...plan.sections.map(({ id }): PlanChange => ({ collection: 'sections', id, fields: null })),
    ...plan.corrections.map(({ id }): PlanChange => ({ collection: 'corrections', id, fields: null })),
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
