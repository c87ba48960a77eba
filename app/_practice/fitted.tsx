'use client';

import { type ReactNode, useLayoutEffect, useRef } from 'react';

/** Px of the smallest letters that anything is set in. */
const LEAST = 16;
/** Halvings of what is still open: to within a pixel of any screen. */
const STEPS = 9;
/** Share of their width that letters keep at least, where only that makes them large enough. */
const NARROWEST = 0.8;

/**
 * Words as large as their box holds them without a break inside a word, up to `most` shares of the window's height; one that is
 * too long even for the smallest letters is broken. The box has a size of its own; what is inside is set in em of it.
 * @param words what is shown: it is fitted anew when they change, or the box does
 * @param afar px that the letters are to have if at all possible, also where `most` is less: for this they are drawn a little
 * narrower, and what is marked `data-spare` is kept for screen readers alone
 */
export function Fitted({
  words,
  most,
  afar = 0,
  className,
  children,
}: {
  words: string;
  most: number;
  afar?: number;
  className: string;
  children: ReactNode;
}) {
  const box = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the words are read from the page, as the browser sets them
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    const set = () => setAll(element, Math.max(afar, most * window.innerHeight), afar);
    set();
    const observer = new ResizeObserver(set);
    observer.observe(element);
    // Letters that come late have other widths than those that stood in for them.
    document.fonts.addEventListener('loadingdone', set);
    return () => {
      observer.disconnect();
      document.fonts.removeEventListener('loadingdone', set);
    };
  }, [words, most, afar]);
  return (
    <div ref={box} className={`min-h-0 min-w-0 ${className}`}>
      {children}
    </div>
  );
}

function setAll(box: HTMLElement, most: number, afar: number): void {
  const spare = box.querySelector('[data-spare]');
  spare?.classList.remove('sr-only');
  const size = setLargest(box, most, afar);
  if (!spare || size >= Math.floor(afar)) return;
  spare.classList.add('sr-only');
  setLargest(box, most, afar);
}

/** @returns px of the letters */
function setLargest(box: HTMLElement, most: number, afar: number): number {
  const words = [...box.children] as HTMLElement[];
  const set = (size: number, width: number): boolean => {
    box.style.fontSize = `${size}px`;
    for (const each of words) {
      each.style.width = width < 1 ? `${100 / width}%` : '';
      each.style.transform = width < 1 ? `scaleX(${width})` : '';
    }
    // Words that run from the right leave their own line on the left, which the box does not count.
    const isWide = [box, ...words].some((each) => each.scrollWidth > each.clientWidth);
    return !isWide && box.scrollHeight <= box.clientHeight;
  };
  box.style.overflowWrap = 'normal';
  if (!set(LEAST, 1)) box.style.overflowWrap = 'anywhere';
  const wide = largest(LEAST, most, (size) => set(size, 1));
  const size = Math.floor(wide < afar ? largest(wide, afar, (each) => set(each, NARROWEST)) : wide);
  set(size, wide < afar ? largest(NARROWEST, 1, (width) => set(size, width)) : 1);
  return size;
}

/** The largest number between two that holds what it should, if the least does. */
function largest(least: number, most: number, holds: (each: number) => boolean): number {
  if (holds(most)) return most;
  let [held, over] = [least, Math.max(least, most)];
  for (let step = 0; step < STEPS; step++) {
    const each = (held + over) / 2;
    if (holds(each)) held = each;
    else over = each;
  }
  return held;
}
