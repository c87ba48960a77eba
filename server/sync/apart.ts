import type { AreaName } from '../../lib/core/areas/board.ts';

/** An area that cannot be opened; nothing else of its board or of others suffers. */
export class AreaApart extends Error {
  readonly sentence =
    'This part of the board is damaged and was set apart. Your instructor can open it as of an earlier hour.';

  constructor(
    readonly area: AreaName,
    reason: string,
  ) {
    super(reason);
  }
}
