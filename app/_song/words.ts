import { listed } from '@/lib/core/song/confirmed.ts';
import { clock } from '@/lib/core/units.ts';
import type { MarkKind, MarkTally } from './marking.ts';

/** What people read where counts are put right and marked by ear. */

const NUMBERS = { 2: 'two', 3: 'three', 4: 'four' } as const;
const plural = (n: number, one: string, more = `${one}s`): string => `${n} ${n === 1 ? one : more}`;

export const again = {
  busy: 'Listening again…',
  dry: (why: string): string =>
    `The recording could not be listened to again, so the counts go by your word alone. ${why}`,
  late: (seconds: number): string =>
    Math.abs(seconds) < 0.02
      ? 'Your taps were on the beat.'
      : `Your taps came ${Math.round(Math.abs(seconds) * 100) * 10} ms ${seconds > 0 ? 'late' : 'early'}; that is taken out.`,
  merged: 'What somebody else said meanwhile is kept, too.',
};

export const ask = {
  title: 'How it may be counted',
  open: 'What else could it be?',
  unsure: 'The counts are not sure. One answer settles most of it.',
  shaping:
    'Edits go by bars that are not sure yet and that nobody has confirmed: put the counts right first.',
  isOne: (at: number): string => `Is this “one”, at ${clock(at, 1)}?`,
  hear: 'Hear it',
  now: 'now',
  yes: 'Yes, one',
  no: 'No',
  whichCount: 'How would you count it?',
  choice: (
    { beatsPerBar, subdivision, tempo }: { beatsPerBar: 2 | 3 | 4; subdivision: 2 | 3; tempo: number },
    dance: string | null,
  ): string =>
    `Counted in ${NUMBERS[beatsPerBar]}s${subdivision === 3 ? ', each beat in three,' : ''} at ${Math.round(tempo)}${dance ? `: ${dance}` : ''}`,
  odds: (odds: number): string => (odds < 0.01 ? 'hardly' : `${Math.round(100 * odds)} in 100`),
  sure: 'The counts are clear now.',
};

export const mark = {
  title: 'Mark it by ear',
  intro:
    'You know this song? Play it once and press as you hear it. Nothing is asked until the end; then you see what it makes of it.',
  begin: 'Begin to mark',
  keys: 'Keys work while this is open.',
  done: 'That is all',
  leave: 'Forget it',
  back: 'Take back the last',
  backKey: 'Backspace',
  use: 'Use this',
  more: 'Mark more',
  none: 'Nothing is marked yet: play the recording and press one of these.',
  made: 'What it makes of this',
  word: (n: number): string => `Word ${n}`,
  wordLabel: (at: number): string => `Word heard at ${clock(at, 1)}`,
  stopping: 'Counts again',
  kinds: {
    beat: { name: 'Beat', key: ' ', shown: 'space' },
    bar: { name: 'One', key: '1', shown: '1' },
    section: { name: 'New section', key: 's', shown: 'S' },
    word: { name: 'Word', key: 'w', shown: 'W' },
    stop: { name: 'Counts stop', key: 'x', shown: 'X' },
  } satisfies Record<MarkKind, { name: string; key: string; shown: string }>,
  tally: ({ beats, bars, sections, words, stops }: MarkTally): string =>
    listed(
      [
        beats > 0 ? plural(beats, 'beat') : '',
        bars > 0 ? plural(bars, 'one') : '',
        sections > 0 ? plural(sections, 'section') : '',
        words > 0 ? plural(words, 'word') : '',
        stops > 0 ? plural(stops, 'stop') : '',
      ].filter((words) => words !== ''),
    ),
  counts: (beatsPerBar: 2 | 3 | 4, tempo: number, bars: number): string =>
    `Counted in ${NUMBERS[beatsPerBar]}s at ${Math.round(tempo)} a minute, ${plural(bars, 'bar')}.`,
  sectionMoved: (name: string, from: number, to: number): string =>
    `${name} begins at ${clock(to, 1)}, not ${clock(from, 1)}.`,
  sectionStays: (name: string, at: number): string => `${name} begins at ${clock(at, 1)}, as it did.`,
  sectionNew: (at: number): string => `A new section begins at ${clock(at, 1)}.`,
  wait: (at: number): string => `The counts wait after ${clock(at, 1)}.`,
};
