import { useEffect, useRef } from 'react';

/** Does it when the page is loaded anew or left: what was being written would be gone with it. */
export function useWhenLeft(what: () => void): void {
  const latest = useRef(what);
  latest.current = what;
  useEffect(() => {
    const left = () => latest.current();
    window.addEventListener('pagehide', left);
    return () => window.removeEventListener('pagehide', left);
  }, []);
}
