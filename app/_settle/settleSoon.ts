import type { Board } from '@/lib/core/areas/board.ts';
import type { Day } from '@/lib/core/calendar.ts';
import type { Settlement } from '@/lib/core/checks/settle.ts';
import { whenIdle } from '../_ui/whenIdle.ts';

/** Ms of searching after which the page may do other things. */
const SLICE = 6;

/**
 * Searches for the changes that settle a board together, in small pieces, as the page has time; gives what calls it off.
 * @param done told once, unless it was called off
 */
export function settleSoon(board: Board, today: Day, done: (found: Settlement) => void): () => void {
  let isOff = false;
  const run = async () => {
    const { fixAllInSteps } = await import('@/lib/core/checks/settle.ts');
    const steps = fixAllInSteps(board, today);
    const slice = () => {
      const until = performance.now() + SLICE;
      do {
        const step = steps.next();
        if (step.done) return done(step.value);
      } while (performance.now() < until);
      stop = whenIdle(slice);
    };
    if (!isOff) stop = whenIdle(slice);
  };
  // Without a network there is no offer: each note still has its own.
  let stop = whenIdle(() => void run().catch(() => undefined));
  return () => {
    isOff = true;
    stop();
  };
}
