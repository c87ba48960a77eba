import { BEATS_PER_BAR, facts, type Part, parts } from './song.ts';

/** A part laid out in time: seconds at which each of its beats falls. */
export interface Laid {
  part: Part;
  bars: number;
  /** One more than it has beats: the last is where the next part begins. */
  beats: number[];
}

/** Silence before the first note, as a recording has it; seconds. */
const LEAD = 0.35;
/** How long the last chord rings after the last bar; seconds. */
export const TAIL = 7;

export const barsOf = (text: string): string[] =>
  text
    .split('|')
    .map((bar) => bar.trim())
    .filter((bar) => bar !== '');

/**
 * Beat times of the whole song. The tempo breathes: a little faster in the middle of eight bars, slower into a section's end, and
 * much slower into the last chord.
 */
export function layOut(): Laid[] {
  let at = LEAD;
  return parts.map((part, index) => {
    const bars = barsOf(part.chords).length;
    const last = index === parts.length - 1;
    const beats: number[] = [];
    for (let b = 0; b < bars * BEATS_PER_BAR; b++) {
      beats.push(at);
      const inEight = (b / BEATS_PER_BAR) % 8;
      const breath = 1 + 0.012 * Math.sin((Math.PI * inEight) / 8) - 0.006;
      const toEnd = bars - b / BEATS_PER_BAR;
      const ease = toEnd <= 1 ? 0.975 : 1;
      const slowing = last ? 1 - 0.16 * Math.max(0, (b / BEATS_PER_BAR - 2) / bars) : 1;
      at += 60 / (part.tempo * breath * ease * slowing);
    }
    beats.push(at);
    return { part, bars, beats };
  });
}

export const songLength = (laid: Laid[]): number => laid.at(-1)!.beats.at(-1)! + TAIL;

/** Where things are, as known from the writing of it; the open annotation sets' ways of saying it stand beside the recording. */
export function truthOf(laid: Laid[]) {
  const beats = laid.flatMap((l) => l.beats.slice(0, -1));
  const positions = beats.map((_, i) => (i % BEATS_PER_BAR) + 1);
  const round = (t: number) => Math.round(t * 1e4) / 1e4;
  return {
    title: facts.title,
    metre: '3/4',
    beats_per_bar: BEATS_PER_BAR,
    compound: false,
    key: facts.key,
    duration: round(songLength(laid)),
    beats: beats.map(round),
    beat_positions: positions,
    downbeats: beats.filter((_, i) => positions[i] === 1).map(round),
    sections: laid.map((l, i) => ({
      label: l.part.kind,
      material: l.part.like,
      start: round(l.beats[0]!),
      // The last chord rings on: the outro ends with the sound.
      end: round(i === laid.length - 1 ? songLength(laid) : l.beats.at(-1)!),
      bars: l.bars,
    })),
  };
}
