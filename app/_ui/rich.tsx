'use client';

import dynamic from 'next/dynamic';
import type { XmlFragment } from 'yjs';
import { laterPart } from '../_client/laterParts.ts';
import './rich.css';

export interface RichProps {
  /** The shared text to write in; bound while the editor stands. */
  fragment: XmlFragment;
  /** What the text is, for a screen reader. */
  label: string;
  /** Shown while it is empty. */
  placeholder: string;
  /** Puts the caret at the end as soon as it opens. */
  focus?: boolean;
}

/** The editor is heavy and few pages write: it comes when the first text is opened. */
export const Rich = dynamic<RichProps>(
  laterPart(async () => (await import('./richEditor.tsx')).RichEditor),
  {
    ssr: false,
    loading: () => (
      <p role="status" className="min-h-28 p-4 text-soft">
        Opening the page…
      </p>
    ),
  },
);
