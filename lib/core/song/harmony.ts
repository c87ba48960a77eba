/** Frames this close to a moment hear both sides of it: half a tone window. Seconds. */
const GUARD = 0.06;

/** How much the harmony changes at a moment, comparing `reach` seconds before with as many after. 0 the same, about 1 nothing in common. */
export type HarmonyChange = (at: number, reach: number) => number;

/** From running sums of pitch classes, so that a change is told in constant time. Bass and upper voices count alike. */
export function harmonyChanges(
  { chroma, bass }: { chroma: Float64Array; bass: Float64Array },
  rate: number,
): HarmonyChange {
  const last = chroma.length / COUNT - 1;
  const place = (frame: number): number => COUNT * Math.min(last, Math.max(0, Math.round(frame)));
  return (at, reach) => {
    const span = Math.max(reach, GUARD + 1.5 / rate);
    const a0 = place((at - span) * rate);
    const a1 = place((at - GUARD) * rate + 1);
    const b0 = place((at + GUARD) * rate);
    const b1 = place((at + span) * rate + 1);
    return (apart(chroma, a0, a1, b0, b1) + apart(bass, a0, a1, b0, b1)) / 2;
  };
}

const COUNT = 12;

/** Sums of all frames before each, 12 pitch classes a frame. */
export function runningSums(frames: Float32Array): Float64Array {
  const sums = new Float64Array(frames.length + COUNT);
  for (let i = 0; i < frames.length; i++) sums[i + COUNT] = sums[i]! + frames[i]!;
  return sums;
}

/** 1 - cosine between the means over two stretches, each from one place of the sums to another. */
function apart(sums: Float64Array, a0: number, a1: number, b0: number, b1: number): number {
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let c = 0; c < COUNT; c++) {
    const x = sums[a1 + c]! - sums[a0 + c]!;
    const y = sums[b1 + c]! - sums[b0 + c]!;
    ab += x * y;
    aa += x * x;
    bb += y * y;
  }
  return aa < 1e-12 || bb < 1e-12 ? 0 : 1 - ab / Math.sqrt(aa * bb);
}
