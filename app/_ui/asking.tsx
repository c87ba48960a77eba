'use client';

import { type ReactNode, useEffect, useId, useRef } from 'react';
import { createPortal } from 'react-dom';
import { Button } from './button.tsx';
import { holdFocus } from './holdFocus.ts';

/** Asks before what cannot be taken back. Focus starts on the safe answer; Escape is it, too. */
export function Asking({
  title,
  children,
  yes,
  no = 'Keep it',
  onYes,
  onNo,
}: {
  title: string;
  children: ReactNode;
  yes: string;
  no?: string;
  onYes: () => void;
  onNo: () => void;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const before = document.activeElement;
    dialog.current?.showModal();
    return () => holdFocus(before);
  }, []);
  // At the body: whatever it was asked from may be dark, or a paragraph.
  return createPortal(
    <dialog
      ref={dialog}
      onClose={onNo}
      aria-labelledby={id}
      className="m-auto w-[min(34rem,calc(100vw-2rem))] rounded border-2 border-ink bg-paper p-6 text-ink backdrop:bg-night/60"
    >
      <h2 id={id} className="text-2xl leading-tight">
        {title}
      </h2>
      <div className="mt-3 space-y-2">{children}</div>
      <div className="mt-5 flex flex-wrap gap-3">
        <Button autoFocus onClick={() => dialog.current?.close()}>
          {no}
        </Button>
        <Button look="main" once onClick={onYes}>
          {yes}
        </Button>
      </div>
    </dialog>,
    document.body,
  );
}
