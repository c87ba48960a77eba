import {
  type PointerEvent as ReactPointerEvent,
  type RefObject,
  startTransition,
  useCallback,
  useEffect,
  useRef,
  useState,
} from 'react';
import { countUnder, type SheetRow } from '@/lib/core/handover/sheetRows.ts';

/** A placed move on its way: where it would lie if it were let go now. */
export interface Dragged {
  id: string;
  at: number;
}

/** A pointer that goes less than this, px, chose the move and did not drag it. */
const SLACK = 6;

/**
 * Drags placed moves by mouse, pen or finger. The pointer is held by the sheet, not by the ribbon, which may lie in another
 * row a moment later. A cancelled pointer (a finger that scrolls) changes nothing, and Escape cancels it, too.
 * @param onDrop the move was let go on another count
 * @param onChoose it was pressed and not moved
 */
export function useDragging(
  sheet: RefObject<HTMLElement | null>,
  rows: readonly SheetRow[],
  columns: number,
  onDrop: (id: string, at: number) => void,
  onChoose: (id: string) => void,
): {
  dragged: Dragged | null;
  /** `free`: a finger takes it in every direction at once, because it is in hand already. */
  grab(id: string, at: number, free: boolean, event: ReactPointerEvent): void;
  touchable(element: SVGElement | null): void;
} {
  const [dragged, setDragged] = useState<Dragged | null>(null);
  const latest = useRef({ rows, columns, onDrop, onChoose });
  latest.current = { rows, columns, onDrop, onChoose };
  const end = useRef<(() => void) | null>(null);
  const finger = useRef<{ x: number; y: number; free: boolean } | null>(null);
  useEffect(() => () => end.current?.(), []);

  const grab = useCallback(
    (id: string, at: number, free: boolean, event: ReactPointerEvent) => {
      const held = sheet.current;
      if (!held || event.button !== 0) return;
      end.current?.();
      const { pointerId, clientX, clientY } = event;
      const grip = countAt(latest.current, clientX, clientY);
      let now = at;
      let moving = false;
      const move = (next: PointerEvent) => {
        if (next.pointerId !== pointerId) return;
        moving ||= Math.hypot(next.clientX - clientX, next.clientY - clientY) > SLACK;
        const under = countAt(latest.current, next.clientX, next.clientY);
        if (moving) scrollAtEdges(next.clientY);
        if (!moving || under === null) return;
        // Held by its middle it keeps its middle under the pointer, as long as that is in the song.
        now = Math.max(0, under - (grip === null ? 0 : grip - at));
        startTransition(() => setDragged((before) => (before?.at === now ? before : { id, at: now })));
      };
      const stop = (last?: PointerEvent) => {
        if (last && last.pointerId !== pointerId) return;
        held.removeEventListener('pointermove', move);
        held.removeEventListener('pointerup', stop);
        held.removeEventListener('pointercancel', stop);
        window.removeEventListener('keydown', letGo);
        if (held.hasPointerCapture(pointerId)) held.releasePointerCapture(pointerId);
        end.current = null;
        finger.current = null;
        if (last?.type === 'pointerup') {
          if (!moving) latest.current.onChoose(id);
          else if (now !== at) latest.current.onDrop(id, now);
        }
        // In this order the dropped move is drawn once, where it lies already; in the other, first where it came from.
        setDragged(null);
      };
      const letGo = ({ key }: KeyboardEvent) => {
        if (key === 'Escape') stop();
      };
      finger.current = { x: clientX, y: clientY, free };
      held.setPointerCapture(pointerId);
      held.addEventListener('pointermove', move);
      held.addEventListener('pointerup', stop);
      held.addEventListener('pointercancel', stop);
      window.addEventListener('keydown', letGo);
      end.current = () => stop();
    },
    [sheet],
  );
  // Parts of a drawing have no touch-action of their own. A finger that sets off across drags, one that sets off up or down
  // scrolls the page, unless the move is in hand. The listener goes with its element, which may leave the page on its way.
  const touchable = useCallback((element: SVGElement | null) => {
    element?.addEventListener(
      'touchmove',
      (event) => {
        const start = finger.current;
        const touch = event.touches[0];
        if (!start || !touch) return;
        start.free ||= Math.abs(touch.clientX - start.x) > Math.abs(touch.clientY - start.y);
        if (start.free && event.cancelable) event.preventDefault();
      },
      { passive: false },
    );
    // What opens when a move is taken in hand must not get the click that browsers make of a tap.
    element?.addEventListener('touchend', (event) => event.cancelable && event.preventDefault());
  }, []);
  return { dragged, grab, touchable };
}

/** Px from the top and the foot of the page, where the strip and the player lie, in which a drag scrolls, and by how much. */
const EDGE = { top: 110, foot: 130, step: 14 };

function scrollAtEdges(y: number): void {
  if (y < EDGE.top) window.scrollBy(0, -EDGE.step);
  else if (y > window.innerHeight - EDGE.foot) window.scrollBy(0, EDGE.step);
}

/** The count under a point of the page; null where there is no row. */
function countAt(
  { rows, columns }: { rows: readonly SheetRow[]; columns: number },
  x: number,
  y: number,
): number | null {
  const element = document.elementFromPoint(x, y)?.closest('[data-row]');
  const row = rows.find(({ id }) => id === element?.getAttribute('data-row'));
  const box = element?.querySelector('svg')?.getBoundingClientRect();
  if (!row || !box || row.counts === 0) return null;
  return countUnder(row, columns, (x - box.left) / box.width);
}
