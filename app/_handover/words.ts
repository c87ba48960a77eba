import { clock } from '../../lib/core/units.ts';

/** What the pages of DJ, planner and night say of their own, as far as it is new or said anew. In one place, ready for translation. */

export const djPage = {
  title: 'What to play',
  full: (song: string, seconds: number, source: string) =>
    `${song}, ${clock(seconds)} in full${source ? `, from ${source}` : ''}`,
  announced: (at: string) => `The dance is announced at ${at}.`,
  planB: 'If the wrong one plays',
  details: 'In detail',
  arriving: 'What to play is on its way…',
};

/** Under the four large figures; of every length it is said what it is of. */
export const djFigures = {
  file: 'file, on the player',
  ownCopy: 'your copy, in full',
  theirCopy: 'the DJ’s copy, in full',
  music: (seconds: number) => `${clock(seconds)} of music, then silence`,
  nothingToDo: 'nothing to cut, nothing to fade',
  nothingToCut: 'nothing to cut',
  start: 'start',
  on: (signal: string) => `on ${signal}`,
  onTheirSign: 'on their sign',
  from: (at: string) => `from ${at}`,
  after: (lastWords: string) => `after “${lastWords}”`,
  comeFrom: (where: string) => `the couple come from ${where}`,
  pose: 'closing pose',
  poseOn: (word: string) => `on “${word}”`,
  kept: (seconds: number) => `kept ${seconds} s`,
  leftOut: { big: 'left out', words: 'by the present edit' },
  notSet: { big: 'not set', words: 'the couple choose it' },
  fade: 'start fading',
  gone: (at: string) => `gone by ${at}`,
  fadesThere: 'the file fades there too',
  ring: 'let it ring to',
  lastHeard: (last: string) => `last heard: ${last}`,
  afterwards: (after: string) => `afterwards: ${after}`,
  applause: 'then applause',
};

/** The music as a strip, read aloud. */
export const stripWords = (music: number, pose: number | null, leftOut: readonly string[]): string =>
  [
    `The whole dance, ${clock(music)} of music`,
    pose === null ? '' : `closing pose at ${clock(pose)}`,
    ...leftOut.map((words) => `left out: ${words}`),
  ]
    .filter(Boolean)
    .join('; ');

export const showPage = { arriving: 'The run of show is on its way…' };

export const finalBar = {
  label: 'Final',
  mark: 'Mark it final',
  again: 'Mark it final again',
  notAfterAll: 'It is not final after all',
  isFinal: 'This is final.',
  changed: 'Marked final, and changed since.',
  by: (name: string, when: string) => `${name}, ${when}`,
  differ: (name: string, when: string) => `${name} marked it on ${when}. These differ now:`,
  /** What the word would be given for, in a line. */
  about: (time: string, total: number | null) =>
    [time, total === null ? '' : `${clock(total)} in all`]
      .filter(Boolean)
      .map((part) => `${part} · `)
      .join(''),
  open: (missing: number) => (missing === 0 ? 'nothing is open' : `${missing} still open`),
};

export const nightPage = {
  music: (seconds: number, version: string) => `${clock(seconds)} of music, ${version}`,
  announced: (at: string) => `You are announced at ${at}.`,
  alone: 'No network now: this is as it was last seen here.',
  keeping: 'Being saved on this device…',
  kept: 'Saved on this device.',
  notKept: 'Needs a network: not saved here.',
};
