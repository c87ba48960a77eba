'use client';

import { useEffect, useState } from 'react';

/** A phone that is turned: too low for anything beside what is danced. As `short` in the styles. */
const TURNED = '(max-height: 30rem) and (orientation: landscape)';
/** A phone, held or turned. */
const PHONE = '(max-width: 40rem), (max-height: 30rem)';

let asked = false;

/** For a press that leads to practice: on a phone it is to fill the screen at once. */
export function askForScreen(): void {
  asked = window.matchMedia(PHONE).matches;
}

/**
 * Whether what is danced fills the screen: when somebody wishes so, when they came here to practise by one press on a phone, and
 * while the music sounds on a phone that is turned. Whoever leads it back stays there until the phone is turned again.
 */
export function useAlone(sounding: boolean): [boolean, (alone: boolean) => void] {
  const [alone, setAlone] = useState(asked);
  useEffect(() => {
    asked = false;
  }, []);
  useEffect(() => {
    if (!sounding) return;
    const turned = window.matchMedia(TURNED);
    const look = () => turned.matches && setAlone(true);
    look();
    turned.addEventListener('change', look);
    return () => turned.removeEventListener('change', look);
  }, [sounding]);
  return [alone, setAlone];
}
