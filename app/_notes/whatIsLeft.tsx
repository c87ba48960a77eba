import { type ReactNode, useEffect, useRef } from 'react';
import type { RichText } from '@/lib/core/areas/area.ts';
import { Button } from '../_ui/button.tsx';
import { holdFocus } from '../_ui/holdFocus.ts';
import { hasWords, RichView } from '../_ui/richView.tsx';

/** What was open when it was taken away elsewhere: `children` say so, and what stood there can still be read and copied. */
export function WhatIsLeft({
  text,
  onDone,
  children,
}: {
  text: RichText;
  onDone: () => void;
  children: ReactNode;
}) {
  const left = useRef<HTMLDivElement>(null);
  // Whoever was writing there finds themselves at what is left of it.
  useEffect(() => holdFocus(left.current), []);
  return (
    <div ref={left} tabIndex={-1} className="mt-4 border-l-[3px] border-edge pl-3">
      <p role="status">
        {children}
        {hasWords(text) ? ' Here it can still be read and copied:' : ''}
      </p>
      <div className="my-2 text-soft">
        <RichView text={text} />
      </div>
      <Button look="quiet" className="px-2!" onClick={onDone}>
        Put it away
      </Button>
    </div>
  );
}
