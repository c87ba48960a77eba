import { type RefObject, useEffect } from 'react';

/** Px of the player's bar at the foot of the page, and some air. */
const FOOT = 110;

/** Keeps what gets the focus clear of a strip that stays at the top of the page, however tall it is just now. */
export function useScrollPadding(strip: RefObject<HTMLElement | null>): void {
  useEffect(() => {
    const element = strip.current;
    if (!element) return;
    const { style } = document.documentElement;
    const observer = new ResizeObserver(() => {
      style.scrollPaddingBlock = `${Math.ceil(element.getBoundingClientRect().height) + 12}px ${FOOT}px`;
    });
    observer.observe(element);
    return () => {
      observer.disconnect();
      style.scrollPaddingBlock = '';
    };
  }, [strip]);
}
