import type { SectionKind } from '../../lib/core/song/section.ts';

/** "Tarnlight Stair": a slow waltz written for this project, so that whoever starts it has music that belongs to nobody else. */
export const facts = {
  title: 'Tarnlight Stair',
  artist: 'The Ostrimere Five',
  version: 'studio, instrumental',
  file: 'tarnlight-stair',
  key: { tonic: 'G', mode: 'major' },
} as const;

export const BEATS_PER_BAR = 3;

/** Who plays in a part; `tune` is played by each of its instruments. */
export type Player =
  | 'harp'
  | 'pad'
  | 'low strings'
  | 'bass'
  | 'brushes'
  | 'fiddle'
  | 'fiddle high'
  | 'fiddle low'
  | 'reed'
  | 'reed thirds';

export interface Part {
  kind: SectionKind;
  /** The same letter for the same music. */
  like: string;
  /** Chords, bars divided by `|`; `:n` gives a chord n beats of its bar. */
  chords: string;
  /** Notes and their beats, bars divided by `|`; `r` rests. */
  tune: string;
  players: Player[];
  /** Beats a minute about which the part breathes. */
  tempo: number;
  /** 0 to 1: how strongly it is played at its beginning and its end. */
  strength: [number, number];
  /** A harp run over its last bar leads into what follows. */
  run?: true;
  /** Bars, from 0, on whose first two beats a bell is struck. */
  bells?: number[];
}

const verse = {
  kind: 'verse',
  like: 'B',
  chords: `G | D/F# | Em | Em7/D | C | G/B | Am7 | D7 |
    G | D/F# | Em | B7/D# | C | Cm6 | G/D:1 D7:2 | G`,
  tune: `B4 2 D5 1 | A4 3 | G4 1 A4 1 B4 1 | B4 2 G4 1 | E5 2 D5 1 | D5 1 B4 2 | C5 1 B4 1 A4 1 | A4 3 |
    B4 2 D5 1 | A4 2 D5 1 | E5 1 G5 1 F#5 1 | F#5 2 D#5 1 | E5 2 C5 1 | Eb5 2 C5 1 | B4 1.5 C5 .5 A4 1 | G4 3`,
} as const;

const chorus = {
  kind: 'chorus',
  like: 'C',
  chords: `C | G/B | Am7 | D7 | Bm7 | Em | Am7 | Dsus:1 D7:2 |
    C | G/B | Am7 | B7/D# | Em | Cm6 | G/D:1 D7:2 | G`,
  tune: `E5 1.5 F#5 .5 G5 1 | G5 2 D5 1 | E5 1 D5 1 C5 1 | C5 2 A4 1 | D5 1.5 E5 .5 F#5 1 | G5 2 E5 1 | A5 1 G5 1 E5 1 | G5 1 F#5 2 |
    E5 1.5 F#5 .5 G5 1 | B5 2 G5 1 | A5 1 G5 1 E5 1 | F#5 2 D#5 1 | E5 1 F#5 1 G5 1 | Eb5 2 G5 1 | D5 1.5 C5 .5 A4 1 | G4 3`,
} as const;

export const parts: Part[] = [
  {
    kind: 'intro',
    like: 'A',
    chords: 'G | Em7 | C | D7 | G | Em7 | Am7 | Dsus:1 D7:2',
    tune: '',
    players: ['harp'],
    tempo: 88,
    strength: [0.35, 0.5],
    bells: [0],
  },
  { ...verse, players: ['harp', 'fiddle'], tempo: 89, strength: [0.5, 0.58] },
  {
    ...verse,
    players: ['harp', 'fiddle', 'low strings', 'bass'],
    tempo: 90,
    strength: [0.56, 0.72],
    run: true,
  },
  {
    ...chorus,
    players: ['harp', 'fiddle', 'reed thirds', 'pad', 'low strings', 'bass', 'brushes'],
    tempo: 91.5,
    strength: [0.78, 0.86],
  },
  {
    kind: 'instrumental',
    like: 'D',
    chords: 'G | Em7 | Cmaj7 | D7 | G | B7/D# | Em:2 A7/C#:1 | Dsus:1 D7:2',
    tune: 'D5 2 B4 1 | G4 3 | E4 1 G4 1 B4 1 | A4 3 | D5 2 B4 1 | A4 1.5 B4 .5 D#5 1 | E5 2 C#5 1 | D5 3',
    players: ['harp', 'reed', 'bass'],
    tempo: 89.5,
    strength: [0.5, 0.46],
  },
  {
    ...verse,
    players: ['harp', 'fiddle low', 'low strings', 'bass', 'pad'],
    tempo: 90,
    strength: [0.55, 0.74],
    run: true,
  },
  {
    ...chorus,
    players: ['harp', 'fiddle', 'reed thirds', 'pad', 'low strings', 'bass', 'brushes'],
    tempo: 91.5,
    strength: [0.8, 0.88],
  },
  {
    kind: 'bridge',
    like: 'E',
    chords: `Em | Em7/D | Cmaj7 | B7 | Em | G/D | A7/C# | D7 |
      Bm7 | Em | Am7 | D7 | Cmaj7 | Am7 | Dsus | D7`,
    tune: `E4 2 G4 1 | F#4 1 G4 1 B4 1 | E4 3 | D#4 2 F#4 1 | G4 2 B4 1 | B4 1.5 A4 .5 G4 1 | A4 2 G4 1 | F#4 3 |
      D5 2 B4 1 | G4 1 A4 1 B4 1 | C5 2 E5 1 | D5 1 C5 1 A4 1 | B4 2 E5 1 | E5 1 D5 1 C5 1 | D5 3 | D5 1 E5 1 F#5 1`,
    players: ['harp', 'reed', 'low strings', 'pad', 'bass'],
    tempo: 88.5,
    strength: [0.42, 0.8],
    run: true,
  },
  {
    ...chorus,
    players: ['harp', 'fiddle', 'fiddle high', 'reed thirds', 'pad', 'low strings', 'bass', 'brushes'],
    tempo: 92,
    strength: [0.88, 1],
  },
  {
    kind: 'outro',
    like: 'F',
    chords: 'G | Em7 | C | Cm6 | G/D | Dsus:1 D7:2 | G | G',
    tune: 'D5 2 B4 1 | G4 2 B4 1 | E5 3 | Eb5 3 | D5 2 B4 1 | A4 1.5 B4 .5 A4 1 | G4 3 | r 3',
    players: ['harp', 'fiddle', 'pad', 'low strings', 'bass'],
    tempo: 88,
    strength: [0.66, 0.45],
    bells: [0, 6],
  },
];

/** What somebody can hear and name, by part and bar (both from 0): the cue words of the demonstration. */
export const sounds: { part: number; bar: number; word: string }[] = [
  { part: 0, bar: 0, word: 'two bells' },
  { part: 1, bar: 0, word: 'the fiddle' },
  { part: 1, bar: 8, word: 'fiddle again' },
  { part: 2, bar: 0, word: 'low strings' },
  { part: 2, bar: 15, word: 'harp runs up' },
  { part: 3, bar: 0, word: 'the brushes' },
  { part: 3, bar: 8, word: 'fiddle climbs' },
  { part: 4, bar: 0, word: 'reed alone' },
  { part: 7, bar: 0, word: 'dark reed' },
  { part: 7, bar: 8, word: 'reed lifts' },
  { part: 7, bar: 15, word: 'harp runs up' },
  { part: 8, bar: 0, word: 'two fiddles' },
  { part: 8, bar: 8, word: 'fiddles climb' },
  { part: 9, bar: 0, word: 'bells again' },
  { part: 9, bar: 6, word: 'last bells' },
];
