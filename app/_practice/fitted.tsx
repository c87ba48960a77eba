'use client';

import { type ReactNode, useLayoutEffect, useRef } from 'react';

/** Px of the smallest letters that anything is set in. */
const LEAST = 16;
/** Halvings of what is still open: to within a pixel of any screen. */
const STEPS = 9;

/**
 * Words as large as their box holds them without a break inside a word, up to `most` shares of the window's height; one that is
 * too long even for the smallest letters is broken. The box has a size of its own; what is inside is set in em of it.
 * @param words what is shown: it is fitted anew when they change, or the box does
 */
export function Fitted({
  words,
  most,
  className,
  children,
}: {
  words: string;
  most: number;
  className: string;
  children: ReactNode;
}) {
  const box = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the words are read from the page, as the browser sets them
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    const set = () => setLargest(element, most * window.innerHeight);
    set();
    const observer = new ResizeObserver(set);
    observer.observe(element);
    return () => observer.disconnect();
  }, [words, most]);
  return (
    <div ref={box} className={`min-h-0 min-w-0 ${className}`}>
      {children}
    </div>
  );
}

function setLargest(box: HTMLElement, most: number): void {
  const fits = (size: number): boolean => {
    box.style.fontSize = `${size}px`;
    // Words that run from the right leave their own line on the left, which the box does not count.
    const isWide = [box, ...box.children].some((each) => each.scrollWidth > each.clientWidth);
    return !isWide && box.scrollHeight <= box.clientHeight;
  };
  box.style.overflowWrap = 'normal';
  if (!fits(LEAST)) box.style.overflowWrap = 'anywhere';
  let [holds, over] = [LEAST, Math.max(LEAST, most)];
  for (let step = 0; step < STEPS; step++) {
    const size = (holds + over) / 2;
    if (fits(size)) holds = size;
    else over = size;
  }
  box.style.fontSize = `${Math.floor(holds)}px`;
}
