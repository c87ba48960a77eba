import { good, type Result } from '../result.ts';
import { lengthOf, type Samples } from '../signal/samples.ts';
import type { Edit } from './edit.ts';
import { render } from './render.ts';
import type { FloorScore } from './score.ts';

/** Music and clicks together stay within full scale. */
const MUSIC = 0.7;
const CLICK = 0.3;
/** Seconds of a click; hertz of the first count of a bar and of the others. */
const LENGTH = 0.03;
const FIRST = 1600;
const OTHER = 1000;

export interface PracticeMix {
  samples: Samples;
  /** Seconds by which the music begins later than the file, for the count-in. */
  lead: number;
}

/**
 * The edit with its counts clicked, the first of each bar higher, and a bar counted in before the first count. Where the song
 * begins with a free stretch, the count-in lies over the end of it.
 */
export function practiceMix(samples: Samples, edit: Edit, score: FloorScore): Result<PracticeMix> {
  const rendered = render(samples, edit);
  if (!rendered.ok) return rendered;
  const { rate } = samples;
  const first = score.counts[0];
  const countIn = first ? score.countsPerBar : 0;
  const lead = Math.max(0, countIn * score.interval - (first?.floor ?? 0));
  const silent = Math.round(lead * rate);
  const channels = rendered.value.channels.map((music) => {
    const mixed = new Float32Array(silent + music.length);
    for (let i = 0; i < music.length; i++) mixed[silent + i] = MUSIC * music[i]!;
    return mixed;
  });
  const mix = { rate, channels };
  for (let k = 1; k <= countIn; k++) {
    const inBar = (((first!.inBar - k) % countIn) + countIn) % countIn;
    click(mix, lead + first!.floor - k * score.interval, inBar === 0);
  }
  for (const { floor, inBar } of score.counts) click(mix, lead + floor, inBar === 0);
  return good({ samples: mix, lead: silent / rate });
}

/** Adds a triangle wave that dies away. */
function click(mix: Samples, at: number, opens: boolean): void {
  const { rate, channels } = mix;
  const start = Math.round(at * rate);
  const length = Math.round(LENGTH * rate);
  for (let i = 0; i < Math.min(length, lengthOf(mix) - start); i++) {
    const phase = ((i * (opens ? FIRST : OTHER)) / rate) % 1;
    const wave = phase < 0.5 ? 4 * phase - 1 : 3 - 4 * phase;
    const left = 1 - i / length;
    for (const channel of channels) channel[start + i]! += CLICK * wave * left * left;
  }
}
