import * as Y from 'yjs';
import { applyChanges } from '../../../lib/board/area.ts';
import { newArea } from '../../../lib/board/layout.ts';
import { areas } from '../../../lib/core/areas/board.ts';
import { recordTime } from '../../../lib/core/units.ts';

/** The plan's updates as one person makes them who drags a move about; of the others' it holds nothing. */
export class Hand {
  private readonly doc = newArea(areas.plan);
  private made = 0;

  get client(): number {
    return this.doc.clientID;
  }

  /** The next update, and the clock of its first struct. */
  next(): { update: Uint8Array; clock: number } {
    const clock = Y.getState(this.doc.store, this.client);
    const updates: Uint8Array[] = [];
    this.doc.once('update', (update: Uint8Array) => updates.push(update));
    const at = recordTime(this.made % 200);
    const fields = this.made === 0 ? { move: 'sway', at, times: 1 } : { at };
    applyChanges(this.doc, areas.plan, [{ collection: 'placed', id: `by-${this.client}`, fields }]);
    this.made += 1;
    return { update: updates[0]!, clock };
  }
}
