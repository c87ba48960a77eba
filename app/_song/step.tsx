import type { ReactNode } from 'react';

/** A row as on the sheet: what it is in the margin, the music beside it. On a phone one under the other. */
export function Row({ side, children }: { side: ReactNode; children: ReactNode }) {
  return (
    <div className="gap-x-6 md:grid md:grid-cols-[10rem_minmax(0,1fr)] xl:grid-cols-[12rem_minmax(0,1fr)]">
      <div className="min-w-0">{side}</div>
      <div className="min-w-0">{children}</div>
    </div>
  );
}

/** What is behind lines, side by side as long as it is closed. */
export function Drawers({ children }: { children: ReactNode }) {
  return <div className="flex flex-wrap gap-x-6 *:open:basis-full">{children}</div>;
}

/** One of the steps from a file to the song that will be played. */
export function Step({
  id,
  number,
  title,
  rows,
  children,
}: {
  /** Where a stage of the board leads. */
  id: string;
  number: number;
  title: string;
  /** What comes under it in rows of its own. */
  rows?: ReactNode;
  children: ReactNode;
}) {
  return (
    // The strip has lines of its own, between the first step and the second.
    <section
      aria-labelledby={id}
      className={`pb-5 ${number > 2 ? 'border-t border-rule' : ''} ${number > 1 ? 'pt-5' : 'pt-1'}`}
    >
      <Row
        side={
          <h2 id={id} className="flex gap-x-2 pb-1 text-2xl leading-tight">
            <span aria-hidden="true" className="text-soft">
              {number}
            </span>
            <span>{title}</span>
          </h2>
        }
      >
        {children}
      </Row>
      {rows}
    </section>
  );
}
