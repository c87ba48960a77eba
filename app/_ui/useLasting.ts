'use client';

import { useEffect, useState } from 'react';

/** Milliseconds: a page that has just been opened is not yet connected, which is nothing to speak of. */
const SHORT = 2500;

/** Whether something has been so for a while. */
export function useLasting(is: boolean): boolean {
  const [lasting, setLasting] = useState(false);
  useEffect(() => {
    if (!is) return setLasting(false);
    const timer = setTimeout(() => setLasting(true), SHORT);
    return () => clearTimeout(timer);
  }, [is]);
  return lasting;
}
