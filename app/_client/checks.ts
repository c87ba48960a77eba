import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import { type Checked, checkSoon } from './checking.ts';

/** Lets the checks look at each new board, one after the other; what changes while they are at work is for the next time. */
export class Checks {
  /** What they said last; null before they have spoken. */
  said: Checked | null = null;
  private seen: { board: Board; today: Day } | null = null;
  private unchecked = false;
  private stop: (() => void) | null = null;

  constructor(private readonly onSaid: () => void) {}

  /** They have spoken of the very board that was shown last. */
  get isChecked(): boolean {
    return !this.unchecked && this.stop === null && this.said !== null;
  }

  see(board: Board, today: Day): void {
    if (board === this.seen?.board && today === this.seen.today) return;
    this.seen = { board, today };
    this.unchecked = true;
  }

  /** To be called once what is new is on the screen. */
  begin(): void {
    if (!this.unchecked || this.stop || !this.seen) return;
    this.unchecked = false;
    const { board, today } = this.seen;
    this.stop = checkSoon(board, today, (checked) => {
      this.stop = null;
      if (checked === null) {
        this.unchecked = true;
        return;
      }
      this.said = checked;
      this.onSaid();
    });
  }

  end(): void {
    this.stop?.();
  }
}
