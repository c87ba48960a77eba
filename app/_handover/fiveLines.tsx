'use client';

import { mayTake } from '@/lib/access/roles.ts';
import type { DjFacts } from '@/lib/core/agreed/dj.ts';
import { useBoard } from '../_client/room.tsx';
import { paperAddress } from '../_studio/takeAlong.tsx';
import { buttonClass } from '../_ui/button.tsx';
import { CopyText } from '../_ui/copyText.tsx';

/** Everything as five lines of text, for a chat or a note on the desk; and on paper. */
export function FiveLines({ facts }: { facts: DjFacts }) {
  const { me } = useBoard('me');
  return (
    <details className="no-print mt-6 border-y border-rule">
      <summary className="min-h-11 py-2.5 font-semibold">All of this as five lines of text</summary>
      <ol className="max-w-prose list-decimal space-y-1 pb-3 pl-6">
        {facts.lines.map((line) => (
          <li key={line} className="break-words">
            {line}
          </li>
        ))}
      </ol>
      <p className="flex flex-wrap gap-3 pb-4">
        <CopyText text={facts.lines.join('\n')} words="Copy the five lines" />
        {mayTake(me.role, 'dj.pdf') ? (
          <a href={paperAddress(me, 'dj.pdf')} download className={buttonClass('plain')}>
            On paper (PDF)
          </a>
        ) : null}
      </p>
    </details>
  );
}
