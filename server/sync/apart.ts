import type { AreaName } from '../../lib/core/areas/board.ts';
import { closings } from '../../lib/protocol/close.ts';

/** A stored area that cannot be opened, not even in part: it stays as it is, and so does all the rest of its board. */
export class AreaApart extends Error {
  readonly sentence = closings.apart.sentence;

  constructor(
    readonly area: AreaName,
    cause: unknown,
  ) {
    super(`the ${area} area cannot be opened: ${String(cause)}`);
  }
}
