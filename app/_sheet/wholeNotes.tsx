import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import { Folded } from './folded.tsx';
import { MarginNotes } from './marginNotes.tsx';
import { countWords } from './notes.ts';

/** Notes that belong to no row, over the sheet: one stands open, more are folded to a line with their number. */
export function WholeNotes({
  notes,
  onFix,
  isBusy,
}: {
  /** Null until the checks have spoken: their line is kept free, so that the sheet stays where it is. */
  notes: readonly Finding[] | null;
  onFix: ((fix: Fix, note: Finding) => void) | null;
  isBusy: (() => boolean) | null;
}) {
  if (notes === null)
    return <p className="no-print mb-3 min-h-11 content-center text-soft md:mb-6">Seeing what fits…</p>;
  if (notes.length === 0) return null;
  const all = () => <MarginNotes notes={notes} onFix={onFix} isBusy={isBusy} most={notes.length} />;
  return (
    <section aria-label="Notes on the whole" className="no-print mb-3 max-w-3xl md:mb-6">
      {notes.length === 1 ? (
        all()
      ) : (
        <Folded
          look={notes.some(({ severity }) => severity !== 'hints') ? 'text-wine' : 'text-soft'}
          line={
            <>
              <span className="font-semibold">{notes.length} notes on the whole</span>: {countWords(notes)}
            </>
          }
        >
          {all}
        </Folded>
      )}
    </section>
  );
}
