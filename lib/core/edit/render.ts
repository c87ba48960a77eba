import { bad, good, type Result } from '../result.ts';
import { durationOf, lengthOf, type Samples } from '../signal/samples.ts';
import type { FloorTime } from '../units.ts';
import { compileEdit, fadeStart } from './compile.ts';
import { crossfadeGains, likeness } from './crossfade.ts';
import type { Edit } from './edit.ts';

/** A stretch of samples that is kept, and how it takes over from the one before. */
interface Piece {
  /** First sample of the recording, and the one after the last. */
  from: number;
  to: number;
  /** Sample of the floor at which it begins. */
  floor: number;
  /** Samples of the crossfade, wholly before `floor`. */
  crossfade: number;
  correlation: number;
}

interface Layout {
  pieces: Piece[];
  length: number;
  /** Sample of the floor at which the fade begins, or null; it is silent at `length`. */
  fade: number | null;
  soft: boolean;
  /** Samples of the fade-in where the edit begins inside the recording. */
  fadeIn: number;
}

/** Seconds. */
const FADE_IN = 0.005;
/** Seconds rendered between two reports. */
const STEP = 5;

/**
 * The edit as sound, to the sample: its times are whole samples of the recording's own rate, nothing is resampled, and only
 * + - x / and sqrt are used, so that every engine makes the same bits. A fade is in the sound also where the DJ fades by hand.
 * Another speed than the recording's is refused: keeping the key needs another kind of work.
 * @param report called with the share done, 0 to 1
 */
export function render(
  samples: Samples,
  edit: Edit,
  report: (share: number) => void = () => {},
): Result<Samples> {
  if (edit.speed !== 1) return otherSpeed;
  const layout = layoutOf(samples, edit);
  const channels = samples.channels.map(() => new Float32Array(layout.length));
  const step = STEP * samples.rate;
  for (let at = 0; at < layout.length; at += step) {
    const to = Math.min(layout.length, at + step);
    for (const [c, channel] of samples.channels.entries()) {
      fill(channel, layout, at, channels[c]!.subarray(at, to));
    }
    report(to / layout.length);
  }
  return good({ rate: samples.rate, channels });
}

/** A stretch of what `render` makes, bit for bit, without the rest: for listening around a seam or a fade. */
export function renderRange(
  samples: Samples,
  edit: Edit,
  fromFloor: FloorTime,
  toFloor: FloorTime,
): Result<Samples> {
  if (edit.speed !== 1) return otherSpeed;
  const layout = layoutOf(samples, edit);
  const inside = (time: number) => Math.max(0, Math.min(layout.length, Math.round(time * samples.rate)));
  const from = inside(fromFloor);
  const length = Math.max(0, inside(toFloor) - from);
  const channels = samples.channels.map((channel) => {
    const out = new Float32Array(length);
    fill(channel, layout, from, out);
    return out;
  });
  return good({ rate: samples.rate, channels });
}

const otherSpeed = bad(
  'speed',
  'A file at another speed cannot be made here yet. Set the speed back to 1, or let the player change it.',
);

function layoutOf(samples: Samples, edit: Edit): Layout {
  const { rate } = samples;
  const compiled = compileEdit(edit, { duration: durationOf(samples) });
  const pieces: Piece[] = [];
  let length = 0;
  for (const [i, span] of compiled.spans.entries()) {
    const from = Math.round(span.from * rate);
    const to = Math.min(lengthOf(samples), Math.round(span.to * rate));
    const before = pieces.at(-1);
    // The cut whose end this span begins at; cuts that touch make one seam.
    const cut = i === 0 ? undefined : edit.cuts.findLast((c) => c.to <= span.from);
    const wanted = Math.round((cut?.crossfade ?? 0) * rate);
    const crossfade = before ? Math.min(wanted, before.to - before.from, from) : 0;
    const correlation = before ? likeness(samples, before.to, from, crossfade) : 0;
    pieces.push({ from, to, floor: length, crossfade, correlation });
    length += to - from;
  }
  const fades = fadeStart(edit, compiled);
  return {
    pieces,
    length,
    fade: fades === null ? null : Math.round(fades * rate),
    soft: edit.end.kind === 'fade' && edit.end.shape === 'soft',
    fadeIn: (pieces[0]?.from ?? 0) > 0 ? Math.round(FADE_IN * rate) : 0,
  };
}

/** Writes the floor samples from `start` on, as many as `out` holds. */
function fill(channel: Float32Array, layout: Layout, start: number, out: Float32Array): void {
  const end = start + out.length;
  for (const { from, to, floor } of layout.pieces) {
    const first = Math.max(start, floor);
    const last = Math.min(end, floor + to - from);
    if (last > first) out.set(channel.subarray(from + first - floor, from + last - floor), first - start);
  }
  for (const { from, floor, crossfade, correlation } of layout.pieces) {
    for (let n = Math.max(start, floor - crossfade); n < Math.min(end, floor); n++) {
      const gains = crossfadeGains((n - floor + crossfade + 0.5) / crossfade, correlation);
      out[n - start] = gains.out * out[n - start]! + gains.in * channel[from + n - floor]!;
    }
  }
  for (let n = start; n < Math.min(end, layout.fadeIn); n++) out[n - start]! *= n / layout.fadeIn;
  if (layout.fade === null) return;
  for (let n = Math.max(start, layout.fade); n < end; n++) {
    const gain = (layout.length - n) / (layout.length - layout.fade);
    out[n - start]! *= layout.soft ? gain * gain : gain;
  }
}
