import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import { usePlace } from '../_ui/place.ts';
import { Sentence } from '../_ui/sentence.tsx';
import { notePlace } from '../_ui/stageWays.ts';
import { Folded } from './folded.tsx';
import { MarginNotes } from './marginNotes.tsx';
import { countWords, headOf } from './notes.ts';

/** Notes that belong to no row, over the sheet, folded to one line: so the first row stays where it is, whatever is said. */
export function WholeNotes({
  notes,
  ...rest
}: {
  /** Null until the checks have spoken: their line is kept free, so that the sheet stays where it is. */
  notes: readonly Finding[] | null;
  mayBeFixed: ReadonlySet<string>;
  onFix: ((fix: Fix, note: Finding) => void) | null;
  isBusy: (() => boolean) | null;
}) {
  const place = usePlace();
  if (notes === null) return <p className="no-print min-h-11 content-center text-soft">Seeing what fits…</p>;
  if (notes.length === 0) return null;
  const [first] = notes;
  const wrong = notes.some(({ severity }) => severity !== 'hints');
  return (
    <section aria-label="Notes on the whole" className="no-print">
      <Folded
        look={`truncate ${wrong ? 'text-wine' : 'text-soft'}`}
        led={notes.some(({ id }) => notePlace(id) === place)}
        line={
          notes.length === 1 && first ? (
            <>
              <span className="font-semibold">{headOf(first)}</span>: <Sentence>{first.sentence}</Sentence>
            </>
          ) : (
            <>
              <span className="font-semibold">{notes.length} notes on the whole</span>: {countWords(notes)}
            </>
          )
        }
      >
        {() => (
          <div className="max-w-3xl pb-2">
            <MarginNotes notes={notes} most={notes.length} {...rest} />
          </div>
        )}
      </Folded>
    </section>
  );
}
