import { bad, good, type Result } from '../result.ts';
import type { Samples } from '../signal/samples.ts';
import { collected, reported, type Sound, withSilentEnd } from '../signal/sound.ts';
import type { FloorTime } from '../units.ts';
import { crossfadeGains } from './crossfade.ts';
import type { Edit } from './edit.ts';
import { type Layout, layoutOf, type Piece } from './layout.ts';

/** Seconds of silence at the end of the DJ's file, so that no player cuts its tail. Nothing else that is rendered has it. */
export const SILENT_END = 1;

/**
 * Makes a sound last `length` samples, its pitch kept. Given by whoever renders at another speed; one serves one rendering.
 */
export type Stretch = (sound: Sound, length: number) => Sound;

export interface Rendering {
  /** Called with the share done, 0 to 1. */
  report?: (share: number) => void;
  /** Needed where the edit's speed is not 1. */
  stretch?: Stretch | undefined;
}

/** Seconds rendered in a part. */
const STEP = 2;

/**
 * The edit as sound. Its length is the floor length to the nearest sample, each part begins at the nearest sample of both
 * clocks, nothing is resampled, and only + - x / and sqrt are used, so that every engine makes the same bits. A fade is in the
 * sound also where the DJ fades by hand, should that hand be elsewhere. At another speed the kept music with its joins is
 * stretched, then faded. Fails without a `stretch` where the speed is not 1.
 */
export function rendering(samples: Samples, edit: Edit, { report, stretch }: Rendering = {}): Result<Sound> {
  const layout = layoutOf(samples, edit);
  const kept = keptSound(samples, layout, 0, layout.kept);
  const spedUp = atSpeed(kept, edit, layout.length, stretch);
  if (!spedUp.ok) return spedUp;
  const faded = fadedSound(spedUp.value, layout, 0);
  return good(report ? reported(faded, report) : faded);
}

/** The same in memory. */
export function render(samples: Samples, edit: Edit, how: Rendering = {}): Result<Samples> {
  const sound = rendering(samples, edit, how);
  return sound.ok ? good(collected(sound.value)) : sound;
}

/** The file that the DJ plays: the edit, and a silent second. */
export function djFile(samples: Samples, edit: Edit, how: Rendering = {}): Result<Sound> {
  const sound = rendering(samples, edit, how);
  if (!sound.ok) return sound;
  if (sound.value.length === 0)
    return bad('empty', 'Nothing of the recording is left. Keep at least some of it.');
  return good(withSilentEnd(sound.value, Math.round(SILENT_END * samples.rate)));
}

/**
 * A stretch of what `render` makes without the rest, for listening around a join or a fade: at speed 1 bit for bit, at another
 * the same music at the same place.
 */
export function renderRange(
  samples: Samples,
  edit: Edit,
  fromFloor: FloorTime,
  toFloor: FloorTime,
  stretch?: Stretch,
): Result<Samples> {
  const layout = layoutOf(samples, edit);
  const inside = (time: number) => Math.max(0, Math.min(layout.length, Math.round(time * samples.rate)));
  const from = inside(fromFloor);
  const length = Math.max(0, inside(toFloor) - from);
  const keptFrom = Math.round(from * edit.speed);
  const kept = keptSound(samples, layout, keptFrom, keptFrom + Math.round(length * edit.speed));
  const spedUp = atSpeed(kept, edit, length, stretch);
  return spedUp.ok ? good(collected(fadedSound(spedUp.value, layout, from))) : spedUp;
}

function atSpeed(kept: Sound, { speed }: Edit, length: number, stretch?: Stretch): Result<Sound> {
  if (speed === 1) return good(kept);
  if (stretch) return good(stretch(kept, length));
  return bad('speed', 'A file at another speed cannot be made here. Set the speed back to 1.');
}

/** The kept music with its joins at the recording's own speed, between two of its samples. */
const keptSound = ({ rate, channels }: Samples, layout: Layout, first: number, last: number): Sound => ({
  rate,
  channels: channels.length,
  length: last - first,
  *parts() {
    const most = Math.max(0, Math.min(last - first, STEP * rate));
    const room = channels.map(() => new Float32Array(most));
    for (let at = first; at < last; at += STEP * rate) {
      const part = room.map((all) => all.subarray(0, Math.min(last - at, most)));
      for (const [c, out] of part.entries()) fill(channels[c]!, layout.pieces, at, out.fill(0));
      yield part;
    }
  },
});

/** Writes the kept samples from `start` on, as many as `out` holds; silence where the recording has ended. */
function fill(channel: Float32Array, pieces: readonly Piece[], start: number, out: Float32Array): void {
  const end = start + out.length;
  for (const { from, to, at } of pieces) {
    const first = Math.max(start, at);
    const last = Math.min(end, at + to - from);
    if (last > first) out.set(channel.subarray(from + first - at, from + last - at), first - start);
  }
  for (const { from, at, crossfade, correlation } of pieces) {
    for (let n = Math.max(start, at - crossfade); n < Math.min(end, at); n++) {
      const gains = crossfadeGains((n - at + crossfade + 0.5) / crossfade, correlation);
      out[n - start] = gains.out * out[n - start]! + gains.in * channel[from + n - at]!;
    }
  }
}

/** The sound, whose first sample is the floor's `start`, with the fades at its two ends. */
const fadedSound = (sound: Sound, layout: Layout, start: number): Sound => ({
  ...sound,
  *parts() {
    let at = start;
    for (const part of sound.parts()) {
      for (const channel of part) {
        begin(channel, layout, at);
        end(channel, layout, at);
      }
      yield part;
      at += part[0]!.length;
    }
  },
});

function begin(out: Float32Array, { fadeIn }: Layout, start: number): void {
  for (let n = start; n < Math.min(start + out.length, fadeIn); n++) out[n - start]! *= n / fadeIn;
}

function end(out: Float32Array, { fade, length, soft }: Layout, start: number): void {
  if (fade === null) return;
  for (let n = Math.max(start, fade); n < start + out.length; n++) {
    const gain = (length - n) / (length - fade);
    out[n - start]! *= soft ? gain * gain : gain;
  }
}
