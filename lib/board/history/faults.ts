import * as Y from 'yjs';
import type { AreaShape } from '../../core/areas/area.ts';
import { readArea } from '../area.ts';
import { isEqual } from '../compare.ts';
import { newArea } from '../layout.ts';
import { openArea } from '../open.ts';

interface Kept {
  snapshot: Uint8Array | null;
  through: number;
  trimmed: number;
  hasAside: boolean;
  bases: readonly { through: number; bytes: Uint8Array }[];
  log: readonly { number: number; bytes: Uint8Array }[];
}

/** What is wrong with an area as it is kept, as the end of a sentence that begins with its name. */
export function faultsOf(shape: AreaShape, kept: Kept): string[] {
  const loose = kept.log.filter(({ number }) => number > kept.through).map(({ bytes }) => bytes);
  const faults: string[] = [];
  try {
    const { doc, unusable } = openArea(shape, kept.snapshot ? [kept.snapshot, ...loose] : loose);
    if (unusable.length > 0)
      faults.push(
        `holds ${unusable.length === 1 ? 'a part that' : `${unusable.length} parts that`} cannot be used and will be set aside when it is opened`,
      );
    readArea(doc, shape);
    doc.destroy();
  } catch {
    faults.push('cannot be opened: the instructor can open it as of an earlier hour');
  }
  if (!kept.hasAside) faults.push(...strayed(shape, kept));
  return faults;
}

/** Snapshots that are not what the log says which they replaced, as far as that is still there. */
function strayed(shape: AreaShape, { snapshot, through, trimmed, bases, log }: Kept): string[] {
  const states = [...bases, ...(snapshot ? [{ through, bytes: snapshot }] : [])];
  const first = trimmed === 0 ? null : states.find((state) => state.through >= trimmed);
  if (first === undefined) return [];
  const doc = newArea(shape);
  let at = 0;
  try {
    if (first) Y.applyUpdate(doc, first.bytes);
    at = first?.through ?? 0;
    for (const state of states) {
      if (state.through <= at) continue;
      for (const { number, bytes } of log) {
        if (number <= at || number > state.through) continue;
        // An update is missing: what follows says nothing of the snapshot.
        if (number !== at + 1) return [];
        Y.applyUpdate(doc, bytes);
        at = number;
      }
      if (at !== state.through) return [];
      const own = newArea(shape);
      Y.applyUpdate(own, state.bytes);
      const isSame = isEqual(doc, own, shape);
      own.destroy();
      if (!isSame) return [`has a snapshot of its first ${state.through} updates that is not what these say`];
    }
    return [];
  } catch {
    // The area itself says so above, where this is what everybody reads.
    return ['has a history that cannot be read in full'];
  } finally {
    doc.destroy();
  }
}
