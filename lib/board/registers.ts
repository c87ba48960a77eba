import * as Y from 'yjs';
import type { AreaData, AreaShape } from '../core/areas/area.ts';
import { readParts } from './area.ts';
import { newArea } from './layout.ts';

/**
 * Single registers of a stored area, without looking at the rest of it: for what goes through very many boards. Throws where an
 * update cannot be applied.
 */
export function storedRegisters<S extends AreaShape, N extends keyof S['registers'] & string>(
  shape: S,
  stored: readonly Uint8Array[],
  names: readonly N[],
): Pick<AreaData<S>, N & keyof AreaData<S>> {
  const doc = newArea(shape);
  try {
    doc.transact(() => {
      for (const update of stored) Y.applyUpdate(doc, update);
    });
    return readParts(doc, shape, names) as Pick<AreaData<S>, N & keyof AreaData<S>>;
  } finally {
    doc.destroy();
  }
}
