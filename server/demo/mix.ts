/** The desk: what is heard directly and what is sent to the room, two channels each. */
export interface Mix {
  rate: number;
  left: Float32Array;
  right: Float32Array;
  roomLeft: Float32Array;
  roomRight: Float32Array;
}

export function newMix(rate: number, seconds: number): Mix {
  const make = () => new Float32Array(Math.ceil(seconds * rate));
  return { rate, left: make(), right: make(), roomLeft: make(), roomRight: make() };
}

/** How a sound is placed: gain, from left (-1) to right (1), and how much of it the room hears. */
export interface Place {
  gain: number;
  pan: number;
  room: number;
}

/** Adds a sound whose first sample is heard at `at` seconds. */
export function lay(mix: Mix, at: number, sound: Float32Array, place: Place): void {
  const from = Math.round(at * mix.rate);
  const turn = ((place.pan + 1) * Math.PI) / 4;
  const l = place.gain * Math.cos(turn);
  const r = place.gain * Math.sin(turn);
  const end = Math.min(sound.length, mix.left.length - from);
  for (let i = 0; i < end; i++) {
    const x = sound[i]!;
    mix.left[from + i]! += l * x;
    mix.right[from + i]! += r * x;
    mix.roomLeft[from + i]! += place.room * l * x;
    mix.roomRight[from + i]! += place.room * r * x;
  }
}

/** Numbers from -1 to 1 that are the same on every run (mulberry32). */
export function noiseFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 2147483648 - 1;
  };
}
