import { useRef } from 'react';
import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import { usePlace } from '../_ui/place.ts';
import { Sentence } from '../_ui/sentence.tsx';
import { notePlace } from '../_ui/stageWays.ts';
import { Folded } from './folded.tsx';
import { headOf, shownOf } from './notes.ts';
import { useFix } from './useFix.ts';

interface Props {
  notes: readonly Finding[];
  /** Ids of the rules that may offer a fix: it is found later, and its line is kept free, so that no row moves for it. */
  mayBeFixed: ReadonlySet<string>;
  /** Applies a fix; null for those who only read. */
  onFix: ((fix: Fix, note: Finding) => void) | null;
  /** Something is on its way: fixes are looked for when it has arrived. Null for those who only read. */
  isBusy: (() => boolean) | null;
  /** So many are shown before "more". */
  most?: number;
}

/** What a proof-reader would write beside the row, each with what settles it. */
export function MarginNotes({ notes, most = shownOf(notes), ...rest }: Props) {
  const place = usePlace();
  if (notes.length === 0) return null;
  const later = notes.slice(most);
  return (
    <div className="space-y-2">
      <ul className="space-y-2">
        {notes.slice(0, most).map((note) => (
          <Note key={note.id} note={note} {...rest} />
        ))}
      </ul>
      {later.length > 0 ? (
        <Folded
          line={`${later.length} more ${later.length === 1 ? 'note' : 'notes'}`}
          look="text-sm text-soft"
          led={later.some(({ id }) => notePlace(id) === place)}
        >
          {() => (
            <ul className="space-y-2">
              {later.map((note) => (
                <Note key={note.id} note={note} {...rest} />
              ))}
            </ul>
          )}
        </Folded>
      ) : null}
    </div>
  );
}

function Note({
  note,
  mayBeFixed,
  onFix,
  isBusy,
}: { note: Finding } & Pick<Props, 'mayBeFixed' | 'onFix' | 'isBusy'>) {
  const [ref, fix] = useFix(note, isBusy);
  const followed = useRef<Finding>(null);
  const wrong = note.severity !== 'hints';
  return (
    <li
      ref={ref}
      id={notePlace(note.id)}
      className={`arrives border-l-2 pl-3 ${note.severity === 'blocks' ? 'border-wine' : wrong ? 'border-wine/50' : 'border-edge'}`}
    >
      <p className={`text-sm leading-tight font-semibold ${wrong ? 'text-wine' : 'text-soft'}`}>
        {headOf(note)}
      </p>
      <p className="sung text-[1.05rem] leading-snug">
        <Sentence>{note.sentence}</Sentence>
      </p>
      {fix && onFix ? (
        <button
          type="button"
          data-does={notePlace(note.id)}
          onClick={() => {
            // The board may have changed since the words were shown: what they do not say is not done.
            if (note.fix?.words !== fix.words || followed.current === note) return;
            // Until the checks have seen the change the note still stands; a second press does nothing.
            followed.current = note;
            onFix(note.fix, note);
          }}
          className="min-h-11 text-left text-[0.95rem] font-semibold underline decoration-edge underline-offset-4 hover:decoration-ink"
        >
          {fix.words}
        </button>
      ) : onFix && mayBeFixed.has(note.rule) ? (
        <div className="min-h-11" />
      ) : null}
    </li>
  );
}
