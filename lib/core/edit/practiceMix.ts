import { good, type Result } from '../result.ts';
import type { Samples } from '../signal/samples.ts';
import type { Sound } from '../signal/sound.ts';
import type { Edit } from './edit.ts';
import { type Rendering, rendering } from './render.ts';
import type { FloorScore } from './score.ts';

/** Music and clicks together stay within full scale. */
const MUSIC = 0.7;
const CLICK = 0.3;
/** Seconds of a click; hertz of the first count of a bar and of the others. */
const LENGTH = 0.03;
const FIRST = 1600;
const OTHER = 1000;

export interface PracticeMix {
  sound: Sound;
  /** Seconds by which the music begins later than the file, for the count-in. */
  lead: number;
}

interface Click {
  /** Sample of the mix. */
  at: number;
  opens: boolean;
}

/**
 * The edit with its counts clicked, the first of each bar higher, and a bar counted in before the first count. Where the song
 * begins with a free stretch, the count-in lies over the end of it.
 */
export function practiceMix(
  samples: Samples,
  edit: Edit,
  score: FloorScore,
  how: Rendering = {},
): Result<PracticeMix> {
  const rendered = rendering(samples, edit, how);
  if (!rendered.ok) return rendered;
  const music = rendered.value;
  const first = score.counts[0];
  const countIn = first ? score.countsPerBar : 0;
  const lead = Math.max(0, countIn * score.interval - (first?.floor ?? 0));
  const silent = Math.round(lead * music.rate);
  const sampleOf = (floor: number) => Math.round((lead + floor) * music.rate);
  const clicks: Click[] = [];
  for (let k = countIn; k > 0; k--) {
    const inBar = (((first!.inBar - k) % countIn) + countIn) % countIn;
    clicks.push({ at: sampleOf(first!.floor - k * score.interval), opens: inBar === 0 });
  }
  for (const { floor, inBar } of score.counts) clicks.push({ at: sampleOf(floor), opens: inBar === 0 });
  const mixed: Sound = {
    ...music,
    length: silent + music.length,
    *parts() {
      let at = 0;
      for (const part of withSilence(music, silent)) {
        for (const channel of part) {
          for (let i = 0; i < channel.length; i++) channel[i]! *= MUSIC;
          for (const click of clicks) addClick(channel, at, click, music.rate);
        }
        yield part;
        at += part[0]!.length;
      }
    },
  };
  return good({ sound: mixed, lead: silent / music.rate });
}

function* withSilence(music: Sound, silent: number): Generator<Float32Array[]> {
  if (silent > 0) yield Array.from({ length: music.channels }, () => new Float32Array(silent));
  yield* music.parts();
}

/** Adds to a stretch that begins at a sample of the mix what of a click falls into it: a triangle wave that dies away. */
function addClick(out: Float32Array, start: number, { at, opens }: Click, rate: number): void {
  const length = Math.round(LENGTH * rate);
  const last = Math.min(length, start + out.length - at);
  for (let i = Math.max(0, start - at); i < last; i++) {
    const phase = ((i * (opens ? FIRST : OTHER)) / rate) % 1;
    const wave = phase < 0.5 ? 4 * phase - 1 : 3 - 4 * phase;
    const left = 1 - i / length;
    out[at + i - start]! += CLICK * wave * left * left;
  }
}
