'use client';

import { useState } from 'react';
import { Button } from './button.tsx';

/** Copies a text; where the browser refuses (plain http), shows it selected so that it can be copied by hand. */
export function CopyText({ text, words = 'Copy' }: { text: string; words?: string }) {
  const [state, setState] = useState<'' | 'copied' | 'by hand'>('');
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setState('copied');
    } catch {
      setState('by hand');
    }
  };
  return (
    <span className="inline-flex min-w-0 flex-wrap items-center gap-3">
      <Button onClick={copy}>{words}</Button>
      <span role="status" className="text-sm text-soft">
        {state === 'copied' ? 'Copied.' : state === 'by hand' ? 'Please copy it from here:' : ''}
      </span>
      {state === 'by hand' ? (
        <textarea
          readOnly
          aria-label="Text to copy"
          ref={(field) => field?.select()}
          className="w-full rounded border border-edge p-2"
          rows={Math.min(8, text.split('\n').length + 1)}
          value={text}
        />
      ) : null}
    </span>
  );
}
