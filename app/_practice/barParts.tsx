'use client';

import { type ReactNode, type Ref, useEffect, useRef } from 'react';

/** Parts of the dark bars that play at the foot of a page. */

export function PlayPause({
  sounding,
  name,
  busy = false,
  onClick,
}: {
  sounding: boolean;
  name: string;
  busy?: boolean;
  onClick: () => void;
}) {
  return (
    <button
      type="button"
      onClick={onClick}
      // Not "disabled", which would take the focus from whoever has just pressed it.
      aria-disabled={busy}
      aria-label={name}
      className="grid size-14 shrink-0 short:size-11 place-items-center rounded-full border border-night-soft hover:border-night-ink aria-disabled:opacity-55"
    >
      <svg viewBox="0 0 24 24" className="size-6 fill-current" aria-hidden="true">
        {sounding ? <path d="M7 5h3.5v14H7zM13.5 5H17v14h-3.5z" /> : <path d="M8 5v14l11-7z" />}
      </svg>
    </button>
  );
}

export function BarButton({
  ref,
  pressed,
  expanded,
  controls,
  className = '',
  onClick,
  children,
}: {
  ref?: Ref<HTMLButtonElement>;
  pressed?: boolean;
  expanded?: boolean;
  controls?: string;
  className?: string;
  onClick: () => void;
  children: ReactNode;
}) {
  return (
    <button
      ref={ref}
      type="button"
      aria-pressed={pressed}
      aria-expanded={expanded}
      aria-controls={controls}
      onClick={onClick}
      className={`${className} min-h-11 rounded px-2 text-night-soft underline-offset-4 hover:text-night-ink hover:underline aria-pressed:text-night-ink aria-pressed:underline`}
    >
      {children}
    </button>
  );
}

/** Space plays and pauses wherever it means nothing else. */
export function useSpace(toggle: () => void): void {
  const latest = useRef(toggle);
  latest.current = toggle;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const target = event.target instanceof Element ? event.target : null;
      const taken = target?.closest(
        'input, textarea, select, button, a, summary, dialog, [contenteditable], [role], [tabindex="0"]',
      );
      if (event.key !== ' ' || taken || event.defaultPrevented || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      latest.current();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}
