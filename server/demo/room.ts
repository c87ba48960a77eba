import type { Mix } from './mix.ts';

/** Delay lines in seconds, without common factors; after Jot and Chaigne 1991, a feedback network with a Householder matrix. */
const LINES = [0.0297, 0.0371, 0.0411, 0.0437, 0.0533, 0.0617, 0.0683, 0.0797];
/** Seconds until the room has died by 60 dB, and its share of loss in the treble at each pass. */
const DIES = 2.4;
const DAMP = 0.32;
const WET = 0.34;

/** A small hall: adds what the room gives back to the desk's direct sound and returns the two channels. */
export function inRoom(mix: Mix): [Float32Array, Float32Array] {
  const lines = LINES.map((seconds) => new Float32Array(Math.round(seconds * mix.rate)));
  const back = LINES.map((seconds) => 10 ** ((-3 * seconds) / DIES));
  const damped = new Float64Array(LINES.length);
  const at = new Int32Array(LINES.length);
  const outs = new Float64Array(LINES.length);
  const ahead = Math.round(0.022 * mix.rate);
  const { left, right } = mix;
  for (let i = ahead; i < left.length; i++) {
    let sum = 0;
    for (let n = 0; n < lines.length; n++) {
      const x = lines[n]![at[n]!]!;
      damped[n] = x * (1 - DAMP) + damped[n]! * DAMP;
      outs[n] = damped[n]! * back[n]!;
      sum += outs[n]!;
    }
    const mixed = (2 / lines.length) * sum;
    let l = 0;
    let r = 0;
    for (let n = 0; n < lines.length; n++) {
      const even = n % 2 === 0;
      const sent = even ? mix.roomLeft[i - ahead]! : mix.roomRight[i - ahead]!;
      lines[n]![at[n]!] = outs[n]! - mixed + sent;
      at[n] = (at[n]! + 1) % lines[n]!.length;
      const sign = n % 4 < 2 ? 1 : -1;
      if (even) l += sign * outs[n]!;
      else r += sign * outs[n]!;
    }
    left[i]! += WET * l;
    right[i]! += WET * r;
  }
  return [left, right];
}

/** Scales both channels alike to `level` RMS, and rounds off what would pass `ceiling`; the last half second fades to nothing. */
export function mastered(
  channels: [Float32Array, Float32Array],
  rate: number,
  level: number,
  ceiling: number,
): void {
  let sum = 0;
  for (const channel of channels) for (const x of channel) sum += x * x;
  const gain = level / Math.sqrt(sum / (2 * channels[0].length));
  const knee = ceiling * 0.7;
  const fade = Math.round(2.5 * rate);
  for (const channel of channels) {
    for (let i = 0; i < channel.length; i++) {
      const x = channel[i]! * gain;
      const over = Math.abs(x) - knee;
      const held =
        over <= 0 ? x : Math.sign(x) * (knee + (ceiling - knee) * Math.tanh(over / (ceiling - knee)));
      const left = channel.length - 1 - i;
      channel[i] = left < fade ? held * (left / fade) ** 2 : held;
    }
  }
}
