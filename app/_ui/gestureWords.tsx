'use client';

import dynamic from 'next/dynamic';

/** Comes after the page: nobody has done anything yet. */
export const GestureWords = dynamic(async () => (await import('./lastGesture.tsx')).LastGesture, {
  ssr: false,
});
