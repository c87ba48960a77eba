import { memo } from 'react';
import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { SheetRow } from '@/lib/core/handover/sheetRows.ts';
import type { Cue } from '@/lib/core/song/section.ts';
import { clock } from '@/lib/core/units.ts';
import { playFrom } from '../_practice/player.ts';
import { captionsOf, isQuietAbove } from './captions.ts';
import { CueWord } from './cueWord.tsx';
import { MarginNotes } from './marginNotes.tsx';
import { Names } from './presence.tsx';
import { rowWords } from './rowWords.ts';
import { Staff, type StaffHandlers, type StaffProps } from './staff.tsx';
import { COLUMNS } from './useWidth.ts';

export interface RowHandlers extends StaffHandlers {
  onWord(row: SheetRow, cue: Cue | null, word: string): void;
  /** @param row where the note stood; null for one on the whole */
  onFix(fix: Fix, note: Finding, row: SheetRow | null): void;
  /** A move is being dragged. */
  isBusy(): boolean;
}

interface Props extends StaffProps {
  notes: readonly Finding[];
  /** Ids of the rules that may offer a fix. */
  mayBeFixed: ReadonlySet<string>;
  /** Px for its notes beside the rows after it; null where they make the row as tall as they are. */
  room: number | null;
  /** Px that they hang lower than it. */
  down: number;
  /** They take more than that. */
  isCut: boolean;
  /** Names of the others who are at this row, joined by `|`. */
  here: string;
  /** Null where nothing may be changed. */
  handlers: RowHandlers | null;
  /** The sheet shows what is played, so that a row can be heard. */
  played: boolean;
  /** Something in the row has the attention: told to the others. */
  onLook(row: SheetRow, target: Element): void;
}

/** What stands where no word is: an invitation where a phrase opens, else what kind of row it is. */
function otherwise(score: FloorScore, row: SheetRow): string {
  if (row.kind === 'free') return '(no word yet)';
  if (row.kind === 'phrase') return row.opens ? '(no word yet)' : '';
  const first = score.counts[row.first];
  return first?.assumed ? '(ringing out)' : first?.pickUp ? '(pick-up)' : '';
}

/** A phrase of the song, or a part of a long one: its time, its word, what is danced, and the notes beside it. */
export const Row = memo(function Row({
  notes,
  mayBeFixed,
  room,
  down,
  isCut,
  here,
  played,
  onLook,
  ...staff
}: Props) {
  const { score, row, ink, width, columns, handlers } = staff;
  const time = clock(row.floor);
  const unit = width / columns;
  // On a narrow page a row that only goes on with its phrase takes no line for a word.
  const goesOn = !ink.cue && otherwise(score, row) === '';
  const quiet = isQuietAbove(ink, (at) => (at - row.first) * unit);
  const look = (event: { target: EventTarget }) => onLook(row, event.target as Element);
  return (
    <li
      id={`row-${row.id}`}
      tabIndex={-1}
      data-row={row.id}
      data-from={row.floor}
      onFocusCapture={look}
      onPointerDownCapture={look}
      className={`break-inside-avoid outline-none md:min-h-[64px] ${COLUMNS}`}
    >
      <div className="relative z-1 flex w-fit items-start gap-3 md:w-auto md:justify-between md:pt-[17px]">
        <span className={`flex shrink-0 items-center gap-2 text-soft md:block ${goesOn ? '' : 'min-h-11'}`}>
          {played ? (
            <button
              type="button"
              className={`min-w-11 text-left hover:underline md:min-h-11 ${goesOn ? 'min-h-8' : 'min-h-11'}`}
              aria-label={`Hear it from ${time}`}
              onClick={() => playFrom(row.floor)}
            >
              {time}
            </button>
          ) : (
            <span className="inline-flex min-h-11 min-w-11 items-center">{time}</span>
          )}
          <Names names={here} />
        </span>
        <div
          className={`min-h-11 min-w-0 flex-1 items-center md:flex md:justify-end ${goesOn ? 'hidden' : 'flex'}`}
        >
          <CueWord
            cue={ink.cue}
            otherwise={otherwise(score, row)}
            signal={ink.signal}
            where={`at ${time}`}
            onSet={handlers ? (word) => handlers.onWord(row, ink.cue, word) : null}
          />
        </div>
      </div>
      <div className={`min-w-0 ${quiet ? (goesOn ? 'max-md:-mt-5' : 'max-md:-mt-4') : ''}`}>
        <OverStaff row={row} ink={ink} width={width} columns={columns} />
        {row.counts > 0 ? (
          <>
            <p className="sr-only">{rowWords(score, row, ink)}</p>
            <Staff {...staff} />
          </>
        ) : (
          <p className="flex min-h-16 items-center border-b border-dotted border-edge text-soft">
            No counts here for {Math.round(row.end - row.floor)} s: listen for the words.
          </p>
        )}
        <FadeWords score={score} row={row} />
      </div>
      {notes.length > 0 ? (
        <div
          className={`no-print max-xl:pb-2 md:col-start-2 xl:col-start-3 ${room === null ? '' : 'xl:h-0'}`}
        >
          <div
            className="beside"
            data-cut={isCut || undefined}
            style={
              room === null
                ? undefined
                : { ['--room' as string]: `${room}px`, ['--down' as string]: `${down}px` }
            }
          >
            <MarginNotes
              notes={notes}
              mayBeFixed={mayBeFixed}
              onFix={handlers ? (fix, note) => handlers.onFix(fix, note, row) : null}
              isBusy={handlers?.isBusy ?? null}
            />
          </div>
        </div>
      ) : null}
    </li>
  );
});

/** Words that found no place in the drawing. */
function OverStaff({ row, ink, width, columns }: Pick<StaffProps, 'row' | 'ink' | 'width' | 'columns'>) {
  return captionsOf(ink, (at) => ((at - row.first) * width) / columns, width).map(({ words, gold, from }) => (
    <p
      key={words}
      // Told with the row already.
      aria-hidden="true"
      style={{ paddingLeft: from }}
      className={`text-[0.95rem] leading-snug ${gold ? 'font-medium text-gold' : 'text-soft'}`}
    >
      {words}
    </p>
  ));
}

/** The fade that begins in this row. */
function FadeWords({ score: { fade }, row }: Pick<StaffProps, 'score' | 'row'>) {
  if (!fade || fade.from < row.floor || fade.from >= row.end) return null;
  return (
    <p className="sung text-soft">
      the music fades from {clock(fade.from)}, gone by {clock(fade.to)}
    </p>
  );
}
