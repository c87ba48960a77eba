import { memo } from 'react';
import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import { severityWords, shownOf } from './notes.ts';

interface Props {
  notes: readonly Finding[];
  /** Applies a fix; null for those who only read. */
  onFix: ((fix: Fix) => void) | null;
  /** So many are shown before "more". */
  most?: number;
}

/** What a proof-reader would write beside the row, each with what settles it. */
export const MarginNotes = memo(function MarginNotes({ notes, onFix, most = shownOf(notes) }: Props) {
  if (notes.length === 0) return null;
  const rest = notes.slice(most);
  return (
    <div className="space-y-2">
      <ul className="space-y-2">
        {notes.slice(0, most).map((note) => (
          <Note key={note.id} note={note} onFix={onFix} />
        ))}
      </ul>
      {rest.length > 0 ? (
        <details>
          <summary className="min-h-11 content-center text-sm text-soft">{rest.length} more</summary>
          <ul className="space-y-2">
            {rest.map((note) => (
              <Note key={note.id} note={note} onFix={onFix} />
            ))}
          </ul>
        </details>
      ) : null}
    </div>
  );
});

function Note({ note, onFix }: { note: Finding; onFix: Props['onFix'] }) {
  const wrong = note.severity !== 'hints';
  const { fix } = note;
  return (
    <li
      className={`border-l-2 pl-3 ${note.severity === 'blocks' ? 'border-wine' : wrong ? 'border-wine/50' : 'border-edge'}`}
    >
      <p className={`text-sm leading-tight font-semibold ${wrong ? 'text-wine' : 'text-soft'}`}>
        {severityWords[note.severity]}
      </p>
      <p className="sung text-[1.05rem] leading-snug">{note.sentence}</p>
      {fix && onFix ? (
        <button
          type="button"
          onClick={() => onFix(fix)}
          className="min-h-11 text-left text-[0.95rem] font-semibold underline decoration-edge underline-offset-4 hover:decoration-ink"
        >
          {fix.words}
        </button>
      ) : null}
    </li>
  );
}
