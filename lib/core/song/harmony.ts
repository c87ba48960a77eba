import type { Frames } from './frames.ts';

/** Frames this close to a moment hear both sides of it: half a tone window. Seconds. */
const GUARD = 0.06;

/** How much the harmony changes at a moment, comparing `reach` seconds before with as many after. 0 the same, about 1 nothing in common. */
export type HarmonyChange = (at: number, reach: number) => number;

/** Prepares running sums of pitch classes, so that a change is told in constant time. Bass and upper voices count alike. */
export function harmonyChanges(frames: Frames): HarmonyChange {
  const chroma = runningSums(frames.chroma);
  const bass = runningSums(frames.bass);
  return (at, reach) => {
    const rate = frames.toneRate;
    const span = Math.max(reach, GUARD + 1.5 / rate);
    const before: [number, number] = [(at - span) * rate, (at - GUARD) * rate];
    const after: [number, number] = [(at + GUARD) * rate, (at + span) * rate];
    return (apart(chroma, before, after) + apart(bass, before, after)) / 2;
  };
}

const COUNT = 12;

function runningSums(frames: Float32Array): Float64Array {
  const sums = new Float64Array(frames.length + COUNT);
  for (let i = 0; i < frames.length; i++) sums[i + COUNT] = sums[i]! + frames[i]!;
  return sums;
}

/** 1 - cosine between the means over two stretches of frames. */
function apart(sums: Float64Array, a: [number, number], b: [number, number]): number {
  const last = sums.length / COUNT - 1;
  const [a0, a1] = [clipped(a[0], last), clipped(a[1] + 1, last)];
  const [b0, b1] = [clipped(b[0], last), clipped(b[1] + 1, last)];
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let c = 0; c < COUNT; c++) {
    const x = sums[COUNT * a1 + c]! - sums[COUNT * a0 + c]!;
    const y = sums[COUNT * b1 + c]! - sums[COUNT * b0 + c]!;
    ab += x * y;
    aa += x * x;
    bb += y * y;
  }
  return aa < 1e-12 || bb < 1e-12 ? 0 : 1 - ab / Math.sqrt(aa * bb);
}

const clipped = (frame: number, last: number): number => Math.min(last, Math.max(0, Math.round(frame)));
