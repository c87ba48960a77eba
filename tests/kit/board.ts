import type { Board } from '../../lib/core/areas/board.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import type { Plan } from '../../lib/core/areas/plan.ts';
import { standardMoves } from '../../lib/core/dance/library/standard.ts';
import type { Ending, Move, PlacedMove } from '../../lib/core/dance/move.ts';
import type { Edit } from '../../lib/core/edit/edit.ts';
import { wholeSong } from '../../lib/core/edit/edit.ts';
import type { Grid } from '../../lib/core/song/grid.ts';
import type { Cue, Section, SectionKind } from '../../lib/core/song/section.ts';
import { recordTime, wholeMicros } from '../../lib/core/units.ts';

/** A synthetic song: a steady grid, sections by bars, the first beat at `lead` seconds. */
export interface SongSpec {
  beatsPerBar?: 2 | 3 | 4;
  subdivision?: 2 | 3;
  countLevel?: Grid['countLevel'];
  bpm?: number;
  lead?: number;
  /** Seconds of sound after the last bar. */
  tail?: number;
  form?: [SectionKind, number][];
}

export const nineParts: [SectionKind, number][] = [
  ['intro', 8],
  ['verse', 16],
  ['pre-chorus', 8],
  ['chorus', 16],
  ['verse', 16],
  ['pre-chorus', 8],
  ['chorus', 16],
  ['bridge', 8],
  ['chorus', 16],
];

export const micros = (seconds: number) => recordTime(wholeMicros(seconds));

/** Seconds of a bar's first beat, bars from 0. */
export const barAt = (bar: number, spec: SongSpec = {}): number =>
  (spec.lead ?? 0) + (bar * (spec.beatsPerBar ?? 3) * 60) / (spec.bpm ?? 90);

export function gridOf(spec: SongSpec = {}): Grid {
  const { beatsPerBar = 3, subdivision = 2, bpm = 90, lead = 0, countLevel = 'beat' } = spec;
  const bars = (spec.form ?? nineParts).reduce((sum, [, n]) => sum + n, 0);
  const beats = Array.from({ length: bars * beatsPerBar }, (_, i) => micros(lead + (i * 60) / bpm));
  return {
    beats,
    bars: Array.from({ length: bars }, (_, i) => i * beatsPerBar),
    beatsPerBar,
    subdivision,
    countLevel,
    confirmedBy: { metre: 'Marta', beats: 'Marta', bars: 'Marta' },
  };
}

/** Sections with ids s0, s1, …; the same kind has the same letter. */
export function sectionsOf(spec: SongSpec = {}): Section[] {
  let bar = 0;
  return (spec.form ?? nineParts).map(([kind, bars], i) => {
    const start = micros(barAt(bar, spec));
    bar += bars;
    return {
      id: `s${i}`,
      start,
      kind,
      like: kind[0]!.toUpperCase(),
      name: '',
      phraseBars: null,
      confirmedBy: 'Marta',
    };
  });
}

/** A library move by its id; a wrong id fails loudly. */
export function libraryMove(id: string): Move {
  const move = standardMoves.find((m) => m.id === id);
  if (!move) throw new Error(`no library move ${id}`);
  return move;
}

export const cueAt = (id: string, seconds: number, word: string): Cue => ({ id, at: micros(seconds), word });
export const placed = (id: string, move: string, seconds: number, times = 1): PlacedMove => ({
  id,
  move,
  at: micros(seconds),
  times,
});

export function planOf(spec: SongSpec = {}, more: Partial<Plan> = {}): Plan {
  const grid = gridOf(spec);
  const bars = grid.bars.length;
  const duration = wholeMicros(barAt(bars, spec) + (spec.tail ?? 4));
  return {
    ...emptyBoard().plan,
    title: 'Lantern Street',
    couple: { one: { name: 'Noor', part: 'follow' }, other: { name: 'Elias', part: 'lead' } },
    date: '2027-06-12',
    venue: 'The Glasshouse',
    instructor: 'Marta',
    musicBy: 'dj',
    eveningBy: 'planner',
    recording: {
      id: 'a'.repeat(64),
      duration,
      rate: 44100,
      channels: 2,
      bytes: 4_000_000,
      format: 'mp3',
      files: [{ file: 'a'.repeat(64), from: 0 }],
    },
    recordingWords: {
      artist: 'The Harbour Lamps',
      title: 'Lantern Street',
      version: 'studio version',
      source: 'the couple’s own file',
    },
    heard: {
      tempo: spec.bpm ?? 90,
      key: 'D major',
      loudness: -14,
      truePeak: -1,
      firstSound: 0,
      lastSound: wholeMicros(duration - 0.5),
      confidence: { beats: 0.9, metre: 0.9, bars: 0.9, sections: 0.8, key: 0.8 },
    },
    grid,
    sections: sectionsOf(spec),
    edit: wholeSong,
    ...more,
  };
}

export const boardOf = (spec: SongSpec = {}, more: Partial<Plan> = {}): Board => ({
  ...emptyBoard(),
  plan: planOf(spec, more),
});

export const fadeAt = (from: number, length: number, more: Partial<Edit> = {}): Edit => ({
  ...wholeSong,
  end: { kind: 'fade', from: micros(from), length, shape: 'linear', byHand: false },
  ...more,
});

export const cutOut = (from: number, to: number, more: Partial<Edit> = {}): Edit => ({
  ...wholeSong,
  cuts: [{ from: micros(from), to: micros(to), crossfade: 0.02 }],
  ...more,
});

export const endingOn = (seconds: number, moves: string[], more: Partial<Ending> = {}): Ending => ({
  target: { kind: 'time', at: micros(seconds), cue: null },
  moves,
  hold: 4,
  signal: null,
  facing: 'the windows',
  safer: false,
  ...more,
});
