import type { DanceStrip } from '../core/handover/danceStripShape.ts';
import { clock } from '../core/units.ts';
import type { Paper } from '../protocol/api.ts';

/** What the papers say of their own, beside the facts of the board. In one place, ready for translation. */
export const words = {
  lost: (blank: string) =>
    `“${blank}” stands for a letter that this sheet cannot print. The page on the web shows it: print that instead.`,
  foot: (foot: string, page: number, pages: number) => `${foot}, page ${page} of ${pages}`,
  firstStep: 'first step',
  basic: 'basic step',
  signal: 'ending signal',
  goesOn: (move: string) => `${move} goes on`,
  counts: (counts: number) => `${counts} counts`,
  noCounts: (seconds: number) => `No counts here for ${seconds} s: listen for the words.`,
  strip: ({ parts, moves, musicLength, pose }: DanceStrip) =>
    `The whole dance, ${clock(musicLength)} of music: ${parts.map(({ name, from }) => `${name} at ${clock(from)}`).join(', ')}. ${
      moves.length
    } moves${pose ? `, closing pose at ${clock(pose.from)}` : ''}.`,
};

export const djWords = {
  title: (title: string) => (title ? `${title}, for the first dance` : 'First dance'),
  foot: (couple: string, version: string) => `First dance of ${couple}, ${version}`,
  song: (song: string, full: number, source: string) =>
    `${song}; the recording is ${clock(full)} in full${source ? `; ${source}` : ''}`,
  clockOf: (name: string) => `All times are of ${name}.`,
  file: 'file, on the player',
  ownCopy: 'your own copy, in full',
  fileLine: (music: number, name: string) => `${clock(music)} of music, then silence; ${name}`,
  ownLine: (music: number) => `you play ${clock(music)} of it`,
  start: 'start',
  onTheirSign: 'on their sign',
  after: (last: string) => `after “${last}”`,
  from: (where: string) => `the couple come from ${where}`,
  pose: 'closing pose',
  poseLeftOut: { big: 'left out', words: 'by the present edit' },
  poseOpen: { big: 'open', words: 'not chosen yet' },
  poseLine: (on: string, kept: number) => `${on ? `on “${on}”, ` : ''}kept ${kept} s`,
  ring: 'let it ring to',
  ringLine: (last: string, after: string) => `last heard: ${last}${after ? `; afterwards: ${after}` : ''}`,
  joins: 'Joins',
  inFile: 'Inside the file',
  fade: 'Fade',
  fadeByHand: (gone: string, inFile: boolean) =>
    `start fading; gone by ${gone}${inFile ? '; the file fades there too' : ''}`,
  fadeInFile: 'the fade is in the file',
  byEar: 'Is it the right version? Listen for',
  byEarLine: (all: { word: string; at: string }[]) =>
    all.map(({ word, at }) => `“${word}” at ${at}`).join(', '),
  planB: 'If the full song plays',
  fiveLines: 'In five lines, to send on',
};

export const coupleWords = {
  foot: (couple: string) => `First dance of ${couple}`,
  music: (length: number) => `the music lasts ${clock(length)}`,
  listenFor: 'Listen for, and do',
  otherwise: 'If something goes otherwise',
  moves: 'Your moves',
  saferForm: (form: string) => ` Safer form: ${form}`,
};

export const entryWords = {
  final: (by: string) => `Final, marked by ${by}.`,
  changed: (differs: string[]) => `Changed since it was final: ${differs.join('; ')}.`,
  open: (missing: string[]) => `Still open: ${missing.join(', ')}.`,
  before: 'before the music',
  beforeLine: 'announcement and coming on',
  music: 'music',
  applause: 'applause',
  all: 'in all',
  unknown: 'open',
  moments: 'Who does what, in the music’s time',
  facts: 'Facts',
};

export const fileWords = {
  whom: (names: string[]) => names.join(' and ') || 'First dance',
  version: (version: number | null) => (version === null ? 'draft' : `version ${version}`),
  what: {
    'dj.pdf': 'DJ sheet',
    'couple.pdf': 'couple’s sheet',
    'planner.pdf': 'run of show',
    'planner.ics': 'run of show',
    'planner.csv': 'run of show',
    'moves.vtt': 'words and moves',
    'board.json': 'board',
  } satisfies Record<Paper, string>,
};
