import { type RefObject, useLayoutEffect, useRef, useState } from 'react';
import { flushSync } from 'react-dom';

/** Px across on an A4 or Letter page with its margins. */
const PRINTED = 620;

/** Width of an element in whole px, as it changes, 0 before it is known; on paper that of the page. */
export function useBox(): [RefObject<HTMLDivElement | null>, number] {
  const ref = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const measure = () => setWidth(Math.floor(element.clientWidth));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    // At once: the page is taken for the paper as soon as this has been told.
    const print = () => flushSync(() => setWidth(PRINTED));
    window.addEventListener('beforeprint', print);
    window.addEventListener('afterprint', measure);
    return () => {
      observer.disconnect();
      window.removeEventListener('beforeprint', print);
      window.removeEventListener('afterprint', measure);
    };
  }, []);
  return [ref, width];
}
