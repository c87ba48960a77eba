import type { FloorScore } from '@/lib/core/edit/score.ts';
import { type Danced, shortName } from '@/lib/core/handover/danced.ts';
import type { Stretch } from '@/lib/core/handover/stretch.ts';
import { clock, type FloorTime } from '@/lib/core/units.ts';
import type { Calls } from './player.ts';

/** All words of practice. */

export const dancedWords = {
  firstStep: 'first step',
  pose: 'closing pose',
  again: 'once more',
  basic: 'basic step',
} as const;

/** What the couple do now, where it is no move with a name of its own. */
export const doingWords: Record<Danced['kind'], string> = {
  wait: 'wait',
  'walk on': 'walk on',
  basic: dancedWords.basic,
  move: '',
  pose: dancedWords.pose,
  over: 'the end',
};

export const timesWords = (times: number): string =>
  times === 1 ? '' : times === 2 ? 'twice' : `${times} times`;

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'];
const numberWord = (n: number): string => NUMBERS[n] ?? String(n);
const many = (n: number, what: string): string => `in ${numberWord(n)} ${what}${n === 1 ? '' : 's'}`;

/** How far ahead something lies, as somebody would say it across a room: bars while it is far, counts in the last bar. */
export function whenWords(then: FloorTime, at: FloorTime, score: FloorScore): string {
  const left = Math.round((then - at) / score.interval);
  if (left <= 0) return 'now';
  const bars = Math.round(left / score.countsPerBar);
  if (left < score.countsPerBar || bars === 0) return many(left, 'count');
  return many(bars, 'bar');
}

/** The same as it stands on a screen that is read from afar, in figures: `in 2 bars`. */
export function whenFigures(then: FloorTime, at: FloorTime, score: FloorScore): string {
  const words = whenWords(then, at, score);
  return words.replace(
    /^in (\S+)/,
    (_, number: string) => `in ${Math.max(0, NUMBERS.indexOf(number)) || number}`,
  );
}

/** What is danced, as it stands on a screen that is read from afar. */
export function nowWords(dancing: Danced | null): { name: string; times: string } {
  if (!dancing) return { name: 'listen', times: '' };
  const name = shortName(dancing.name) || doingWords[dancing.kind] || doingWords.basic;
  return { name, times: dancing.kind === 'move' ? timesWords(dancing.times) : '' };
}

export const words = {
  region: 'Follow the music',
  now: 'Now',
  next: 'Next',
  heard: 'Heard now:',
  count: 'Count',
  beforeMusic: 'before the music',
  runUp: 'run-up',
  fill: 'Fill the screen',
  back: 'Back',
  play: 'Play',
  pause: 'Pause',
  pressPlay: 'Press play',
  oneMoment: 'One moment',
  noMusic: 'No music yet',
  making: 'The music is being made ready on this device.',
  toSong: 'Go to the Song page.',
  toTheEnd: 'to the end',
  on: 'on',
  thePractice: 'The dance at a glance',
} as const;

export const missing = {
  counts: ['The counts are not known yet, so the music plays uncounted.', 'Find them on the Song page.'],
  cues: ['No words to listen for yet.', 'Note them on the sheet.'],
  moves: ['No moves yet: dance the basic step.', 'Place some on the sheet.'],
} as const;

export const noSong = ['There is no song to dance to yet.', 'Choose the recording first.'] as const;

export const firstHeard = (at: FloorTime): string => `at ${clock(at)}`;

export const again = {
  title: 'Again and again',
  phrase: 'this phrase, again',
  section: 'this section, again',
  on: (stretch: Pick<Stretch, 'name' | 'scope'>): string => `again: ${nameOf(stretch)}`,
  wider: (stretch: Pick<Stretch, 'name' | 'scope'>): string => `Wider: ${nameOf(stretch)}`,
  all: 'The whole dance',
  own: 'A stretch of your own',
  ownFrom: 'From the start of',
  ownThrough: 'Through the end of',
  choose: 'choose',
  beforeFirst: 'before the first section',
  backwards: 'The end lies before the start: choose a later one.',
  ownOn: (from: FloorTime, to: FloorTime): string => `Again and again: ${clock(from, 1)} to ${clock(to, 1)}.`,
} as const;

/** Of a stretch; all of the dance has no name of its own. */
export const nameOf = ({ name, scope }: Pick<Stretch, 'name' | 'scope'>): string =>
  scope === 'all' ? 'the whole dance' : name;

export const rounds = {
  title: 'Each round',
  runUp: 'Two bars of run-up, to lead the move in',
  buildsUp: 'Slow first, a little faster each round',
  grows: 'Wider once it goes: phrase, section, all',
  mirrored: 'Mirrored, to read it in the studio’s mirror',
} as const;

export const help = {
  title: 'Help with the count',
  counted: 'Count in one bar, and click the counts',
  calls: 'Call each move ahead',
  only: 'Only for practice: the file for the evening has no clicks. Space plays and pauses.',
} as const;

export const callChoices: Record<Calls, string> = {
  silent: 'not at all',
  spoken: 'spoken',
  sounded: 'by two notes',
};

/** The same on the bar's button. */
export const callsNow: Record<Calls, string> = {
  silent: 'no calls',
  spoken: 'calls spoken',
  sounded: 'calls by two notes',
};

export const kept = {
  not: 'This browser keeps nothing here: this page needs a network.',
  all: 'Kept on this device: this page opens and plays without a network.',
  noRoom: 'This page opens without a network; there was no room here to keep the music.',
  soon: 'This page opens without a network; the music will once it has been made ready.',
} as const;

export const late = {
  title: 'Sound that comes late',
  why: 'Headphones and loudspeakers without a wire play late, so the words here run ahead of what you hear. Tap along once, and this device makes up for it.',
  start: 'Tap along',
  anew: 'Tap along again',
  tap: 'Tap here with each click',
  stop: 'Stop',
  forget: 'Forget it',
  taps: (n: number, of: number): string => `${n} of ${of} taps`,
  found: (seconds: number): string =>
    `Sound is ${seconds.toFixed(2)} s late on this device; words and counts wait for it.`,
  inTime: 'The sound comes in time: nothing to make up for.',
  uneven: 'The taps lay too far apart to tell. Please try once more.',
  few: 'Too few taps to tell. Please try once more.',
  blocked: 'The browser did not let the sound start. Please press again.',
} as const;
