import type { ReactNode } from 'react';

/**
 * Shown until the board is open. That it takes long is told by the page as it was served (`.late` in globals.css), which may be
 * before any script of it is here. `said` is the server's own word, where it gave one.
 */
export function Waiting({
  said = null,
  over = false,
  children,
}: {
  said?: string | null;
  over?: boolean;
  children?: ReactNode;
}) {
  return (
    <main className="sheet-page" aria-busy={!over}>
      {over ? null : (
        <p role="status" className="sung text-2xl text-soft">
          Opening the board…
        </p>
      )}
      {said !== null ? (
        <p role="alert" className="mt-4 max-w-prose border-l-[3px] border-wine py-1 pl-3 text-wine">
          {said}
        </p>
      ) : over ? null : (
        <p role="status" className="mt-4 max-w-prose">
          <span className="late">
            This takes longer than it should: the connection is slow, or there is none. There is nothing to
            do: the board opens by itself as soon as it has come.
          </span>
        </p>
      )}
      {children}
      {over ? (
        <p className="mt-4">
          <a href="/">To the front page</a>
        </p>
      ) : null}
    </main>
  );
}
