import { type RefObject, useEffect, useRef } from 'react';

/**
 * Whoever takes something in hand by key is led to the counts on which it can be put: the button that they pressed has gone with
 * its drawer. The first row in the window, so that the page stays where it is.
 */
export function useCountsFocus(sheet: RefObject<HTMLElement | null>, placing: boolean): void {
  const byKey = useRef(false);
  useEffect(() => {
    const onKey = () => {
      byKey.current = true;
    };
    const onPointer = () => {
      byKey.current = false;
    };
    window.addEventListener('keydown', onKey, true);
    window.addEventListener('pointerdown', onPointer, true);
    return () => {
      window.removeEventListener('keydown', onKey, true);
      window.removeEventListener('pointerdown', onPointer, true);
    };
  }, []);
  useEffect(() => {
    if (!placing || !byKey.current) return;
    const counts = [...(sheet.current?.querySelectorAll<SVGElement>('[role="slider"]') ?? [])];
    const strip = Number.parseFloat(document.documentElement.style.scrollPaddingTop) || 0;
    const inView = counts.find((element) => element.getBoundingClientRect().top > strip);
    (inView ?? counts[0])?.focus();
  }, [sheet, placing]);
}
