import type { ProposalKind } from '@/lib/core/edit/ranking.ts';
import { listed } from '@/lib/core/song/confirmed.ts';
import { clock } from '@/lib/core/units.ts';
import type { MarkKind, MarkTally } from './marking.ts';

/** What people read on the song page. */

/** The page itself, in the order of the work. */
export const page = {
  which: 'Which song is it?',
  give: 'Give the very recording that will be played. Beats, sections and words to listen for all hang on it.',
  none: 'No recording has been chosen yet.',
  hear: 'Hear it',
  heard: 'Put it right',
  shape: 'Choose the length',
  take: 'Take it along',
  howTo: (mayEdit: boolean): string =>
    `Press the strip to hear from there${mayEdit ? '; drag over what to leave out' : ''}.`,
  patterns: 'On the strip, the same pattern is the same music.',
  /** A title of any script keeps its direction to itself. */
  recording: (title: string, length: string): string => `\u2068${title || 'The recording'}\u2069, ${length}`,
  another: 'Take another recording',
  confirmed: (by: string): string => `Confirmed by ${by}.`,
  more: 'Key, loudness, dances',
  counts: 'Counts',
  noBeat: 'No beat was heard: tap it',
  sections: 'Sections',
  exactly: 'Joins and ending',
  mustStay: 'What must stay',
  settle: 'Settle song and edit',
} as const;

/** The bar at the foot, which plays the recording or the song as it will be played. */
export const bar = {
  name: 'Music',
  which: 'What is heard',
  sources: { recording: 'recording', played: 'as played' },
  clicked: 'counts clicked',
  play: 'Play',
  pause: 'Pause',
  stop: 'Stop',
  ready: 'Getting ready',
  time: 'Time in the music: ',
  stopHere: 'Stop here',
  beginHere: 'Begin here',
  goOnHere: 'Go on here',
  fadeThere: 'Fade out there',
  forget: 'Forget it',
} as const;

/** Edits to be heard and chosen. */
export const length = {
  present: 'The edit as it is',
  about: 'About how long',
  within: 'Give or take, seconds',
  propose: 'Propose edits',
  reading: 'Reading the song',
  mustBeHeard: 'These must be heard',
  mustBeWhole: 'These must be played whole',
  mustHave: 'And it must have',
  ownEnding: 'the song’s own ending, no fade',
  noJoin: 'no join',
  proposed: 'Proposed edits, the best first',
  nothing: 'No edit keeps all that must be heard. Ask for less, or make one by hand.',
  corrected: 'The song was corrected since: ask for proposals again.',
  kinds: {
    'own length': 'the whole song',
    fade: 'a fade',
    splice: 'a join',
    'splice and fade': 'a join and a fade',
  } satisfies Record<ProposalKind, string>,
  musicUntil: (music: string): string => `music until ${music}`,
  leftOut: (parts: string): string => `left out: ${parts}`,
  chosen: 'chosen',
  choose: 'Choose',
  more: (n: number): string => `Show ${n} more`,
  hear: (what: string): string => `Hear ${what}`,
  hearOf: (what: string, of: string): string => `Hear ${what} of ${of}`,
  putBack: 'Put this part back',
  join: (n: number): string => `join ${n}`,
  whole: 'Back to the whole song',
  measure: 'Measure the join',
  unclear: 'The sounds about the join do not agree on its beat. Trust your ears: hear the join.',
} as const;

/** How the song ends, to the second. */
export const ending = {
  ends: 'The song ends',
  own: 'as the recording does',
  fade: 'with a fade',
  seconds: 'Seconds until silent',
  shape: 'Shape',
  even: 'even',
  soft: 'soft: faster at first',
  byHand: 'the DJ fades by hand',
} as const;

/** Tapping the beats. */
export const tap = {
  title: 'Tap along',
  lead: 'Tap each beat, beginning on a “one”; eight taps are enough.',
  start: 'Start, then tap',
  tap: 'Tap',
  orSpace: '(or space)',
  taps: (n: number, tempo: number | null): string =>
    n === 0 ? '' : `${n} taps${tempo === null ? '' : `, ${Math.round(tempo)} a minute`}`,
  use: 'Use these taps',
  forget: 'Forget them',
} as const;

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
  shaping: 'Edits go by the bars, which are not sure yet: put them right first.',
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
  title: 'By ear',
  intro:
    'You know this song? Play it once and press as you hear it. Nothing is asked until the end; then you see what it makes of it.',
  begin: 'Play it and mark',
  keys: 'Keys work while it plays; the bar at the foot pauses it.',
  done: 'That is all',
  leave: 'Forget it',
  back: 'Take back the last',
  backKey: 'Backspace',
  use: 'Use this',
  more: 'Mark more',
  none: 'Nothing is marked yet: press one of these while it plays.',
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
