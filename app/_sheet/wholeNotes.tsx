import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import { MarginNotes } from './marginNotes.tsx';
import { countWords } from './notes.ts';

/** Notes that belong to no row, over the sheet: one stands open, more are folded to a line with their number. */
export function WholeNotes({
  notes,
  onFix,
  busy,
}: {
  notes: readonly Finding[];
  onFix: ((fix: Fix) => void) | null;
  busy: boolean;
}) {
  if (notes.length === 0) return null;
  const all = <MarginNotes notes={notes} onFix={onFix} busy={busy} most={notes.length} />;
  return (
    <section aria-label="Notes on the whole" className="no-print mb-3 max-w-3xl md:mb-6">
      {notes.length === 1 ? (
        all
      ) : (
        <details>
          <summary
            className={`min-h-11 content-center ${notes.some(({ severity }) => severity !== 'hints') ? 'text-wine' : 'text-soft'}`}
          >
            <span className="font-semibold">{notes.length} notes on the whole</span>: {countWords(notes)}
          </summary>
          {all}
        </details>
      )}
    </section>
  );
}
