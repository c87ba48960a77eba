import { whenIdle } from './whenIdle.ts';

/** ms without a hand on the page after which a long task disturbs nobody. */
const PAUSE = 1500;
const HANDS = ['keydown', 'pointerdown', 'pointermove', 'wheel'];

let lastTouched: number | null = null;

/** Resolves when nobody has typed or pointed for a while, and the page has nothing else to do. */
export async function atRest(): Promise<void> {
  if (lastTouched === null) {
    lastTouched = performance.now();
    const note = ({ timeStamp }: Event) => {
      lastTouched = timeStamp;
    };
    for (const kind of HANDS) window.addEventListener(kind, note, { capture: true, passive: true });
  }
  for (;;) {
    const left: number = lastTouched + PAUSE - performance.now();
    if (left <= 0) break;
    await new Promise((resolve) => setTimeout(resolve, left));
  }
  await new Promise<void>((resolve) => void whenIdle(resolve));
}
