import { clock } from '../units.ts';
import type { Cut, Edit, SongEnd } from './edit.ts';

/** Times closer than this, in seconds, are the same to anybody who listens. */
const SAME = 0.01;
const differ = (a: number, b: number): boolean => Math.abs(a - b) > SAME;

/** What has changed from one edit to another, each in a sentence for whoever plays the music; times of the recording. */
export function editDifferences(before: Edit, now: Edit): string[] {
  const words: string[] = [];
  if (differ(before.start, now.start))
    words.push(`It now starts at ${clock(now.start, 1)} of the recording.`);
  const alike = (a: Cut, b: Cut) => !differ(a.from, b.from) && !differ(a.to, b.to);
  for (const cut of now.cuts) {
    if (!before.cuts.some((other) => alike(cut, other))) {
      words.push(`Now left out: ${clock(cut.from, 1)} to ${clock(cut.to, 1)} of the recording.`);
    }
  }
  for (const cut of before.cuts) {
    if (!now.cuts.some((other) => alike(cut, other))) {
      words.push(`No longer left out: ${clock(cut.from, 1)} to ${clock(cut.to, 1)} of the recording.`);
    }
  }
  words.push(...endDifferences(before.end, now.end));
  if (differ(before.speed, now.speed))
    words.push(`It is now played at ${Math.round(now.speed * 1000) / 10} % of its speed.`);
  // What is left, such as another crossfade, changes the file and nothing that anybody has to do.
  return words;
}

function endDifferences(before: SongEnd, now: SongEnd): string[] {
  if (now.kind === 'own')
    return before.kind === 'own' ? [] : ['It now plays to its own end, without a fade.'];
  const fade = `from ${clock(now.from, 1)} to ${clock(now.from + now.length, 1)} of the recording`;
  if (before.kind === 'own') return [`It now ends with a fade, ${fade}.`];
  const words: string[] = [];
  if (differ(before.from, now.from) || differ(before.length, now.length))
    words.push(`The fade has moved: ${fade}.`);
  if (before.byHand !== now.byHand) {
    words.push(now.byHand ? 'The fade is now done by hand.' : 'The fade is now in the finished file.');
  }
  return words;
}
