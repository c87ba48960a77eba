import { count } from '../units.ts';
import { type KeptCount, ON_THE_GRID } from './floorCounts.ts';
import type { CompiledEdit, FloorSeam } from './score.ts';

/** How the counts go on over each seam of the edit. */
export function floorSeams(compiled: CompiledEdit, kept: readonly KeptCount[], perBar: number): FloorSeam[] {
  return compiled.spans.slice(1).map((span, i) => {
    const found = kept.findIndex((k) => k.span > i);
    const next = found < 0 ? kept.length : found;
    const before = kept[next - 1];
    const after = kept[next];
    const place = {
      floor: span.floor,
      from: compiled.spans[i]!.to,
      to: span.from,
      next: count(next),
    };
    // In a stretch without counts there is nothing that a seam could be off from.
    if (!before || !after || isFar(before, span.floor) || isFar(after, span.floor)) {
      return { ...place, clean: true, countsOff: 0, off: 0 };
    }
    const off = after.floor - before.floor - (before.interval + after.interval) / 2;
    const expected = (before.count.inBar + 1) % perBar;
    const missing = (((after.count.inBar - expected) % perBar) + perBar) % perBar;
    const countsOff = missing === 0 ? 0 : missing <= perBar / 2 ? -missing : perBar - missing;
    // Six digits keep the noise of doubles from deciding what lies exactly on the border.
    const clean = countsOff === 0 && Math.abs(off) <= ON_THE_GRID + 1e-6;
    return { ...place, clean, countsOff, off };
  });
}

const isFar = (kept: KeptCount, floor: number): boolean => Math.abs(kept.floor - floor) > 1.5 * kept.interval;
