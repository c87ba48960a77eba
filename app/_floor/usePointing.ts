import { type RefObject, useEffect, useRef, useState } from 'react';
import type { Spot } from '@/lib/core/dance/outline.ts';
import type { Scale } from './drawn.ts';

/** What a pointer has taken hold of on the plan. */
export type Held = { corner: number } | { thing: string };

interface Ways {
  scale: Scale | null;
  /** Something waits for a place: wherever the plan is tapped. */
  putting: boolean;
  /** What may be dragged; nothing for who only reads. */
  may: boolean;
  onPut(at: Spot): void;
  onSide(side: number): void;
  onDrop(held: Held, at: Spot): void;
}

/** A pointer that goes less than this, px, has moved nothing. */
const SLACK = 4;

/**
 * Taps and drags on the plan, by mouse, pen or finger; gives what is on its way, and where it would lie. A cancelled pointer and
 * Escape change nothing. By keyboard all of it is said in numbers beside the plan.
 */
export function usePointing(
  svg: RefObject<SVGSVGElement | null>,
  ways: Ways,
): { held: Held; at: Spot } | null {
  const [dragged, setDragged] = useState<{ held: Held; at: Spot } | null>(null);
  const latest = useRef(ways);
  latest.current = ways;
  const isDrawn = ways.scale !== null;
  useEffect(() => {
    const element = svg.current;
    if (!element || !isDrawn) return;
    /** How a drag is given up; null while there is none. */
    let giveUp: (() => void) | null = null;
    const down = (event: PointerEvent) => {
      const { may, putting, scale, onPut, onSide } = latest.current;
      const target = event.target instanceof Element ? event.target : null;
      if (!may || event.button !== 0 || giveUp || !target || !scale) return;
      if (putting) {
        onPut(spotUnder(element, scale, event));
        return;
      }
      const side = target.closest<SVGElement>('[data-side]')?.dataset.side;
      if (side !== undefined) return onSide(Number(side));
      const held = heldBy(target);
      if (held) giveUp = drag(element, event, held);
    };
    const drag = (of: SVGSVGElement, from: PointerEvent, held: Held): (() => void) => {
      const { pointerId, clientX, clientY } = from;
      of.setPointerCapture(pointerId);
      // The scale it was taken up with: the drawing is drawn anew while it is moved.
      const scale = latest.current.scale!;
      let at: Spot | null = null;
      const move = (event: PointerEvent) => {
        if (event.pointerId !== pointerId) return;
        if (at === null && Math.hypot(event.clientX - clientX, event.clientY - clientY) < SLACK) return;
        at = spotUnder(of, scale, event);
        setDragged({ held, at });
      };
      const stop = (event?: PointerEvent) => {
        if (event && event.pointerId !== pointerId) return;
        of.removeEventListener('pointermove', move);
        of.removeEventListener('pointerup', stop);
        of.removeEventListener('pointercancel', stop);
        window.removeEventListener('keydown', key);
        giveUp = null;
        setDragged(null);
        if (event?.type === 'pointerup' && at) latest.current.onDrop(held, at);
      };
      const key = (event: KeyboardEvent) => {
        if (event.key === 'Escape') stop();
      };
      of.addEventListener('pointermove', move);
      of.addEventListener('pointerup', stop);
      of.addEventListener('pointercancel', stop);
      window.addEventListener('keydown', key);
      return () => stop();
    };
    element.addEventListener('pointerdown', down);
    return () => {
      giveUp?.();
      element.removeEventListener('pointerdown', down);
    };
  }, [svg, isDrawn]);
  return dragged;
}

function heldBy(target: Element): Held | null {
  const corner = target.closest<SVGElement>('[data-corner]')?.dataset.corner;
  if (corner !== undefined) return { corner: Number(corner) };
  const thing = target.closest<SVGElement>('[data-thing]')?.dataset.thing;
  return thing === undefined ? null : { thing };
}

function spotUnder(element: SVGSVGElement, scale: Scale, { clientX, clientY }: PointerEvent): Spot {
  const box = element.getBoundingClientRect();
  // The drawing keeps its shape within its box, in the middle of it.
  const shown = Math.min(box.width / scale.width, box.height / scale.height);
  return scale.from({
    x: (clientX - box.left - (box.width - shown * scale.width) / 2) / shown,
    y: (clientY - box.top - (box.height - shown * scale.height) / 2) / shown,
  });
}
