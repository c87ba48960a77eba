import { type RefObject, useEffect, useRef, useState } from 'react';
import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import { whenIdle } from '../_ui/whenIdle.ts';

/** Px around the window within which a note is as good as seen. */
const NEAR = '400px';
/** Ms after which it is looked again whether the page is still busy. */
const AGAIN = 300;

/**
 * The fix of a note, once the note is near the window and the page has time: finding one tries several, each against all
 * checks. Until then the fix stays that was shown before, if there was one.
 * @param isBusy something is on its way: nothing is looked for meanwhile. Null where nothing may be changed
 */
export function useFix(
  note: Finding,
  isBusy: (() => boolean) | null,
): [RefObject<HTMLLIElement | null>, Fix | null] {
  const ref = useRef<HTMLLIElement>(null);
  const [fix, setFix] = useState<Fix | null>(null);
  useEffect(() => {
    const element = ref.current;
    if (!isBusy || !element) return;
    let stop: (() => void) | null = null;
    const look = () => {
      if (!isBusy()) return setFix(note.fix);
      const timer = setTimeout(() => {
        stop = whenIdle(look);
      }, AGAIN);
      stop = () => clearTimeout(timer);
    };
    const observer = new IntersectionObserver(
      ([seen]) => {
        if (!seen?.isIntersecting) return;
        observer.disconnect();
        stop = whenIdle(look);
      },
      { rootMargin: NEAR },
    );
    observer.observe(element);
    return () => {
      observer.disconnect();
      stop?.();
    };
  }, [note, isBusy]);
  return [ref, fix];
}
