import type { ReactNode } from 'react';

/** A part of a drawing that is for the eye: what it shows is read aloud in the row's own words. */
export function Unread({ children }: { children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g aria-hidden="true" className="pointer-events-none">
      {children}
    </g>
  );
}
