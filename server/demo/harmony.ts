const STEPS: Record<string, number> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const QUALITIES: Record<string, number[]> = {
  '': [0, 4, 7],
  m: [0, 3, 7],
  '7': [0, 4, 7, 10],
  m7: [0, 3, 7, 10],
  maj7: [0, 4, 7, 11],
  m6: [0, 3, 7, 9],
  sus: [0, 5, 7],
};

const pitchClass = (name: string): number =>
  (STEPS[name[0]!]! + (name[1] === '#' ? 1 : name[1] === 'b' ? -1 : 0) + 12) % 12;

/** MIDI number of `F#5`. */
export const pitchOf = (name: string): number => pitchClass(name) + 12 * (Number(name.at(-1)) + 1);
export const hertz = (pitch: number): number => 440 * 2 ** ((pitch - 69) / 12);

export interface Chord {
  /** Pitch classes, the root first. */
  tones: number[];
  bass: number;
}

/** `Am7`, `D/F#`. */
export function chordOf(text: string): Chord {
  const [name = '', under] = text.split('/');
  const [, root = 'C', quality = ''] = /^([A-G][#b]?)(.*)$/.exec(name) ?? [];
  const tones = QUALITIES[quality]!.map((step) => (pitchClass(root) + step) % 12);
  return { tones, bass: under ? pitchClass(under) : tones[0]! };
}

const LOW = 55;
const HIGH = 74;

/**
 * Four voices, low to high, that lie nearest to the four before: common tones stay, the others step. The third (or what stands for
 * it) is never left out, no two voices share a pitch, and neighbours stay within an octave.
 */
export function voicing(chord: Chord, before: readonly number[]): number[] {
  const pitches: number[] = [];
  for (let p = LOW; p <= HIGH; p++) if (chord.tones.includes(p % 12)) pitches.push(p);
  let best: number[] = [];
  let least = Number.POSITIVE_INFINITY;
  const choose = (from: number, chosen: number[]): void => {
    if (chosen.length === 4) {
      const cost = movement(chosen, before) + missing(chosen, chord);
      if (cost < least) [best, least] = [chosen, cost];
      return;
    }
    for (let i = from; i < pitches.length; i++) {
      const last = chosen.at(-1);
      if (last === undefined || pitches[i]! - last <= 12) choose(i + 1, [...chosen, pitches[i]!]);
    }
  };
  choose(0, []);
  return best;
}

const movement = (voices: readonly number[], before: readonly number[]): number =>
  voices.reduce((sum, p, i) => sum + Math.abs(p - (before[i] ?? [55, 62, 67, 71][i]!)), 0);

const missing = (voices: readonly number[], chord: Chord): number =>
  chord.tones.reduce(
    (sum, tone, i) => sum + (voices.some((p) => p % 12 === tone) ? 0 : i === 1 ? 100 : i === 3 ? 8 : 3),
    0,
  );
