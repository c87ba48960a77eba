import { clock } from '../units.ts';
import type { Cut, Edit, SongEnd } from './edit.ts';

/** Times closer than this, in seconds, are the same to anybody who listens. */
const SAME = 0.01;
const differ = (a: number, b: number): boolean => Math.abs(a - b) > SAME;

/** Whether the other edit is the plan by now, or somebody suggests it. */
type Mood = 'is' | 'would be';

const said = {
  is: {
    starts: 'It now starts at',
    leftOut: 'Now left out:',
    keptAgain: 'No longer left out:',
    own: 'It now plays to its own end, without a fade.',
    fades: 'It now ends with a fade,',
    moved: 'The fade has moved:',
    byHand: 'The fade is now done by hand.',
    inFile: 'The fade is now in the finished file.',
    speed: 'It is now played at',
  },
  'would be': {
    starts: 'It would start at',
    leftOut: 'It would leave out',
    keptAgain: 'It would no longer leave out',
    own: 'It would play to its own end, without a fade.',
    fades: 'It would end with a fade,',
    moved: 'It would fade',
    byHand: 'The fade would be done by hand.',
    inFile: 'The fade would be in the finished file.',
    speed: 'It would be played at',
  },
} as const satisfies Record<Mood, Record<string, string>>;
type Said = (typeof said)[Mood];

/** What differs from one edit to another, each in a sentence for whoever plays the music; times of the recording. */
export function editDifferences(before: Edit, now: Edit, mood: Mood = 'is'): string[] {
  const say = said[mood];
  const words: string[] = [];
  if (differ(before.start, now.start)) words.push(`${say.starts} ${clock(now.start, 1)} of the recording.`);
  const alike = (a: Cut, b: Cut) => !differ(a.from, b.from) && !differ(a.to, b.to);
  const part = ({ from, to }: Cut) => `${clock(from, 1)} to ${clock(to, 1)} of the recording.`;
  for (const cut of now.cuts) {
    if (!before.cuts.some((other) => alike(cut, other))) words.push(`${say.leftOut} ${part(cut)}`);
  }
  for (const cut of before.cuts) {
    if (!now.cuts.some((other) => alike(cut, other))) words.push(`${say.keptAgain} ${part(cut)}`);
  }
  words.push(...endDifferences(before.end, now.end, say));
  if (differ(before.speed, now.speed))
    words.push(`${say.speed} ${Math.round(now.speed * 1000) / 10} % of its speed.`);
  // What is left, such as another crossfade, changes the file and nothing that anybody has to do.
  return words;
}

function endDifferences(before: SongEnd, now: SongEnd, say: Said): string[] {
  if (now.kind === 'own') return before.kind === 'own' ? [] : [say.own];
  const fade = `from ${clock(now.from, 1)} to ${clock(now.from + now.length, 1)} of the recording`;
  if (before.kind === 'own') return [`${say.fades} ${fade}.`];
  const words: string[] = [];
  if (differ(before.from, now.from) || differ(before.length, now.length)) words.push(`${say.moved} ${fade}.`);
  if (before.byHand !== now.byHand) words.push(now.byHand ? say.byHand : say.inFile);
  return words;
}
