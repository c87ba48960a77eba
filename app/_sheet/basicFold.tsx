import { type ReactNode, useId, useState } from 'react';
import { clock } from '@/lib/core/units.ts';
import type { BasicRows } from './basicRows.ts';
import { sheet as words } from './words.ts';

/** On a phone one line for rows in which only the basic is danced; it opens to the rows themselves. */
export function BasicFold({
  rows,
  heard,
  children,
}: {
  rows: BasicRows['rows'];
  /** The words that open these rows. */
  heard: readonly string[];
  children: () => ReactNode;
}) {
  const [open, setOpen] = useState(false);
  const id = useId();
  const [first, last] = [rows[0]!, rows.at(-1)!];
  return (
    <li
      data-rows={open ? undefined : rows.map(({ id: row }) => row).join(' ')}
      data-from={open ? undefined : first.floor}
    >
      <button
        type="button"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
        className="flex min-h-11 w-full items-center gap-x-3 border-b border-dotted border-edge text-left"
      >
        <span className="shrink-0 text-soft">{clock(first.floor)}</span>
        <span className="min-w-0 flex-1">
          {words.basicUntil(clock(last.end))}
          {heard.length > 0 ? (
            <span className="sung"> {heard.map((word) => `“${word}”`).join(', ')}</span>
          ) : null}
        </span>
        <span aria-hidden="true" className="text-soft">
          {open ? '▴' : '▾'}
        </span>
      </button>
      <ol id={id} className={open ? 'unfolds' : undefined}>
        {open ? children() : null}
      </ol>
    </li>
  );
}
