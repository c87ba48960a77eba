import type { AreaShape } from '@/lib/core/areas/area.ts';
import type { AreaName, Board } from '@/lib/core/areas/board.ts';
import type { Change } from '@/lib/core/areas/change.ts';
import { allOf, isAt, isSameLoss, type Lost, lostNow } from '@/lib/core/areas/lost.ts';

/** Areas in which single values are written; of the others one alone writes in a thing, or words are put together by themselves. */
const watched = ['plan', 'show'] as const satisfies readonly AreaName[];
export type LostHere = Lost & {
  area: (typeof watched)[number];
  /** A number of its own, in the order in which they were told. */
  told: number;
};

export const isWatched = (area: AreaName): area is LostHere['area'] =>
  (watched as readonly string[]).includes(area);

/** What was told on a page of a board is still told on the next one, which opens the board anew. */
const kept = new Map<string, readonly LostHere[]>();
let number = 0;

/** What was lost to what others wrote at the same time, until it is taken or left. */
export class Losses {
  /** @param board with whose eyes: the same key on every page of a board */
  constructor(private readonly board: string) {}

  get all(): readonly LostHere[] {
    return kept.get(this.board) ?? NONE;
  }

  tell(area: AreaName, lost: readonly Lost[]): void {
    if (!isWatched(area)) return;
    // The same value may be lost again.
    const others = this.all.filter(
      (one) => one.area !== area || !lost.some((again) => isSameLoss(one, again)),
    );
    this.keep([...others, ...lost.map((one) => ({ ...one, area, told: ++number }))]);
  }

  /** It is left as it stands, and so is what goes with it. */
  dismiss(lost: LostHere): void {
    const left = allOf(lost, this.all);
    this.keep(this.all.filter((one) => !left.includes(one)));
  }

  /** Whoever writes on a place has decided what stands there. */
  changed(area: AreaName, changes: readonly Change<AreaShape>[]): void {
    if (this.all.length === 0) return;
    this.keep(this.all.filter((one) => one.area !== area || !changes.some((change) => isAt(one, change))));
  }

  /** With what stands by now; the same list where that is the same. */
  now(board: Board): readonly LostHere[] {
    const { all } = this;
    const now = all.flatMap((one) => lostNow(one, board[one.area]!) ?? []);
    if (now.length !== all.length || now.some((one, i) => one !== all[i])) this.keep(now);
    return this.all;
  }

  private keep(lost: readonly LostHere[]): void {
    kept.set(this.board, lost.length > 0 ? lost : NONE);
  }
}

const NONE: readonly LostHere[] = [];
