import { BANDS, type NetInput, TONES } from './input.ts';
import { fours, type Layer, layerOf, Room } from './multiply.ts';
import { NET } from './weights.generated.ts';

/**
 * A small learned ear: convolutions over two spectra, then dilated ones with gates and skips over 25 steps a second (van den Oord et al.
 * 2016; of beats Davies and Böck 2019), between whose blocks each step hears what the whole song is like. Trained by tests/ear on rendered
 * music; `tests/ear/net.py` is the same in a framework.
 */

/** Beats in the first and second half of a step, bar starts likewise, a section's start, a beat in three parts. */
const HEADS = 6;
/** Beats a bar and parts of a beat, in the order of the last layer's outputs. */
export const METRES = ['2/2', '3/2', '4/2', '2/3', '3/3', '4/3'] as const;
/** Steps that are worked on at a time, so that what is between two layers stays near the processor. A multiple of four. */
const CHUNK = 64;

/** What the net answers, as log odds. */
export interface NetAnswer {
  steps: number;
  /** HEADS values a step. */
  heads: Float32Array;
  /** Of METRES, up to a constant. */
  metre: Float32Array;
}

interface Net {
  level: Float64Array;
  toneLevel: Float64Array;
  band1: Layer;
  band2: Layer;
  join: Layer;
  tone1: Layer;
  tone2: Layer;
  mix: Layer;
  wide: Layer[];
  out: Layer[];
  /** After the layer of the same index, where there is one. */
  whole: (Layer | undefined)[];
  head: Layer;
  metre: Layer;
}

const POOLED = BANDS / 3;
const PLACES = (POOLED - 4) / 4;

let ready: Net | undefined;

/** Read once, when a song is first listened to. */
function net(): Net {
  if (ready) return ready;
  const numbers = halves(NET.numbers);
  const { channels, dilations, every, taps } = NET;
  const [first, second] = [channels / 4, Math.floor((3 * channels) / 8)];
  let at = 0;
  const take = (n: number): Float64Array => {
    at += n;
    return numbers.subarray(at - n, at);
  };
  const layer = (inputs: number, outputs: number): Layer => {
    const rows = take(inputs * outputs);
    return layerOf(inputs, outputs, rows, take(outputs));
  };
  const level = take(2 * BANDS);
  const toneLevel = take(2 * TONES);
  const [band1, band2] = [layer(9, first), layer(5 * first, second)];
  const join = layer(4 * PLACES * second, channels);
  const [tone1, tone2, mix] = [layer(15, 8), layer(96, 24), layer(channels + 24, channels)];
  const wide: Layer[] = [];
  const out: Layer[] = [];
  const whole: (Layer | undefined)[] = [];
  for (let i = 1; i <= dilations.length; i++) {
    wide.push(layer(taps * channels, 2 * channels));
    out.push(layer(channels, channels));
    const hearsAll = i % every === 0 && i < dilations.length;
    whole.push(hearsAll ? layer(channels, channels) : undefined);
  }
  const [head, metre] = [layer(channels, HEADS), layer(channels, METRES.length)];
  if (at !== numbers.length) throw new Error(`the net's file holds ${numbers.length} numbers, not ${at}`);
  ready = { level, toneLevel, band1, band2, join, tone1, tone2, mix, wide, out, whole, head, metre };
  return ready;
}

/** Base64 of IEEE 754 half-precision numbers. */
function halves(text: string): Float64Array {
  const bytes = atob(text);
  return Float64Array.from({ length: bytes.length / 2 }, (_, i) => {
    const bits = bytes.charCodeAt(2 * i) | (bytes.charCodeAt(2 * i + 1) << 8);
    const [sign, power, part] = [bits >> 15 ? -1 : 1, (bits >> 10) & 31, bits & 1023];
    return sign * (power === 0 ? part * 2 ** -24 : (1 + part / 1024) * 2 ** (power - 15));
  });
}

/** Layers and places of one song's numbers in the room that it is worked out in. */
interface Work {
  net: Net;
  room: Room;
  /** The song's values, CHANNELS a step, and those that the next layer makes of them; silence of `edge` values lies to either side. */
  x: number;
  next: number;
  edge: number;
}

/** @param report called with the share done, 0 to 1 */
export function runNet(
  input: NetInput,
  report: (share: number) => void = () => {},
  room = new Room(),
): NetAnswer {
  const it = net();
  const { channels, dilations, taps } = NET;
  const { steps } = input;
  // As far as the widest layer looks.
  const edge = channels * (taps >> 1) * Math.max(...dilations);
  const length = channels * fours(steps);
  const work: Work = {
    ...{ net: it, room, edge },
    x: edge + room.take(length + 2 * edge),
    next: edge + room.take(length + 2 * edge),
  };
  const tones = mixedTones(work, input);
  fromBands(work, input, tones);
  report(0.35);
  const skip = room.take(length);
  const layer = gatesOf(work, skip, steps);
  it.wide.forEach((wide, i) => {
    layer(wide, it.out[i]!, dilations[i]!);
    const whole = it.whole[i];
    if (whole) hearAll(work, whole, skip, steps);
    report(0.35 + (0.6 * (i + 1)) / it.wide.length);
  });
  const head = room.place(it.head);
  const answer = room.take(head.width * fours(steps));
  const shares = ofWhole(room, it.metre, skip, steps);
  const { floats } = room;
  for (let i = skip; i < skip + length; i++) if (floats[i]! < 0) floats[i] = 0;
  room.multiply(skip, channels, fours(steps), 1, 0, head, answer);
  const heads = new Float32Array(HEADS * steps);
  for (let s = 0; s < steps; s++)
    for (let h = 0; h < HEADS; h++) heads[HEADS * s + h] = floats[answer + head.width * s + h]!;
  return { steps, heads, metre: floats.slice(shares, shares + METRES.length) };
}

/** A layer's answer to what the whole song is like, the mean of all steps' rectified values: where it begins. */
function ofWhole(room: Room, layer: Layer, skip: number, steps: number): number {
  const { channels } = NET;
  const placed = room.place(layer);
  const mean = room.take(4 * channels);
  const answer = room.take(4 * placed.width);
  const { floats } = room;
  const sums = new Float64Array(channels);
  for (let s = 0, at = skip; s < steps; s++)
    for (let c = 0; c < channels; c++, at++) sums[c]! += Math.max(0, floats[at]!) / steps;
  floats.set(sums, mean);
  room.multiply(mean, channels, 4, 1, 0, placed, answer);
  return answer;
}

/** Adds to each step's values what the whole song is like. */
function hearAll({ room, x }: Work, layer: Layer, skip: number, steps: number): void {
  const { channels } = NET;
  const answer = ofWhole(room, layer, skip, steps);
  const { floats } = room;
  for (let s = 0, at = x; s < steps; s++)
    for (let c = 0; c < channels; c++, at++) floats[at]! += floats[answer + c]!;
}

/** The tones' part of each step, 24 values: where it begins. */
function mixedTones({ net: { toneLevel, tone1, tone2 }, room }: Work, { steps, tones }: NetInput): number {
  const width = TONES + 2;
  const out = room.take(24 * fours(steps));
  // Two steps of silence to either side, and a place beside the lowest and the highest.
  const level = room.take((fours(steps) + 5) * width);
  const [one, two] = [room.place(tone1), room.place(tone2)];
  const first = room.take(TONES * one.width);
  const pooled = room.take(4 * 96);
  const { floats } = room;
  for (let s = 0; s < steps; s++) {
    const at = level + (s + 2) * width + 1;
    for (let b = 0; b < TONES; b++)
      floats[at + b] = tones[TONES * s + b]! * toneLevel[b]! + toneLevel[TONES + b]!;
  }
  for (let s = 0; s < steps; s += 4) {
    for (let r = 0; r < 4; r++) {
      room.multiply(level + (s + r) * width, 1, TONES, 5, width, one, first);
      room.pool(first, { width: one.width, group: 4, count: 12, kept: 8 }, pooled + 96 * r);
    }
    room.multiply(pooled, 96, 4, 1, 0, two, out + 24 * s);
  }
  for (let i = out; i < out + 24 * fours(steps); i++) if (floats[i]! < 0) floats[i] = 0;
  return out;
}

/** Both spectra of each step, mixed to as many values as there are channels. */
function fromBands(work: Work, { steps, bands }: NetInput, tones: number): void {
  const { room, net: it, x } = work;
  const { channels } = NET;
  const { level } = it;
  const [first, second] = [it.band1.outputs, it.band2.outputs];
  const [band1, band2] = [room.place(it.band1), room.place(it.band2)];
  const [join, mix] = [room.place(it.join), room.place(it.mix)];
  const frames = 2 * steps;
  const width = BANDS + 2;
  const row = PLACES * second;
  const levels = room.take((2 * CHUNK + 4) * width);
  const one = room.take(BANDS * band1.width);
  const pooled = room.take(POOLED * first + band1.width);
  const two = room.take(4 * PLACES * band2.width);
  const joined = room.take((2 * CHUNK + 2) * row + band2.width);
  const both = room.take(CHUNK * (channels + 24));
  const part = room.take(CHUNK * channels);
  const { floats } = room;
  for (let from = 0; from < steps; from += CHUNK) {
    // A frame more to either side for `join`, and one more for `band1`; beyond the song is silence.
    for (let n = 0; n < 2 * CHUNK + 4; n++) {
      const frame = 2 * from - 2 + n;
      const at = levels + n * width + 1;
      if (frame < 0 || frame >= frames) floats.fill(0, at, at + BANDS);
      else
        for (let b = 0; b < BANDS; b++)
          floats[at + b] = bands[BANDS * frame + b]! * level[b]! + level[BANDS + b]!;
    }
    for (let n = 0; n < 2 * CHUNK + 2; n++) {
      const frame = 2 * from - 1 + n;
      const place = joined + n * row;
      if (frame < 0 || frame >= frames) {
        floats.fill(0, place, place + row);
        continue;
      }
      room.multiply(levels + n * width, 1, BANDS, 3, width, band1, one);
      room.pool(one, { width: band1.width, group: 3, count: POOLED, kept: first }, pooled);
      room.multiply(pooled, first, 4 * PLACES, 1, 0, band2, two);
      room.pool(two, { width: band2.width, group: 4, count: PLACES, kept: second }, place);
    }
    room.multiply(joined, 2 * row, CHUNK, 1, 0, join, part);
    const count = Math.min(CHUNK, fours(steps) - from);
    for (let n = 0; n < count; n++) {
      const at = both + n * (channels + 24);
      for (let c = 0; c < channels; c++) floats[at + c] = Math.max(0, floats[part + channels * n + c]!);
      for (let c = 0, p = tones + 24 * (from + n); c < 24; c++) floats[at + channels + c] = floats[p + c]!;
    }
    room.multiply(both, channels + 24, count, 1, 0, mix, part);
    const end = channels * Math.min(count, steps - from);
    for (let i = 0, at = x + from * channels; i < end; i++) floats[at + i] = Math.max(0, floats[part + i]!);
  }
}

/** Does one dilated layer: adds what it lets through to `skip`, and makes the next layer's input. */
function gatesOf(
  work: Work,
  skip: number,
  steps: number,
): (wide: Layer, out: Layer, dilation: number) => void {
  const { channels, taps } = NET;
  const { room } = work;
  const gates = room.take(CHUNK * 2 * channels);
  const open = room.take(CHUNK * channels);
  const part = room.take(CHUNK * channels);
  return (wide, out, dilation) => {
    const [broad, narrow] = [room.place(wide), room.place(out)];
    const { floats } = room;
    const { x, next } = work;
    for (let from = 0; from < steps; from += CHUNK) {
      const count = Math.min(CHUNK, fours(steps) - from);
      const apart = dilation * channels;
      const at = x + from * channels - (taps >> 1) * apart;
      room.multiply(at, channels, count, taps, apart, broad, gates);
      for (let n = 0; n < count; n++) {
        for (let c = 0, g = gates + 2 * channels * n, o = open + channels * n; c < channels; c++) {
          const a = floats[g + c]!;
          floats[o + c] = a > 0 ? a / (1 + Math.exp(-floats[g + channels + c]!)) : 0;
        }
      }
      room.multiply(open, channels, count, 1, 0, narrow, part);
      const end = Math.min(count, steps - from) * channels;
      for (let i = 0, p = from * channels; i < end; i++, p++) {
        const value = floats[part + i]!;
        floats[skip + p]! += value;
        floats[next + p] = floats[x + p]! + value;
      }
    }
    work.x = next;
    work.next = x;
  };
}
