'use client';

import { useEffect, useState } from 'react';

/** Milliseconds after which somebody wonders whether anything is still going on. */
const LONG = 8000;

/** Shown until the board is open. `said` is the server's own word, where it gave one. */
export function Waiting({ said = null, over = false }: { said?: string | null; over?: boolean }) {
  const [long, setLong] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLong(true), LONG);
    return () => clearTimeout(timer);
  }, []);
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
      ) : null}
      {said === null && long ? (
        <p role="status" className="mt-4 max-w-prose">
          This takes longer than it should: the connection is slow, or there is none. The page opens by itself
          as soon as the board has come.
        </p>
      ) : null}
      {over ? (
        <p className="mt-4">
          <a href="/">To the front page</a>
        </p>
      ) : null}
    </main>
  );
}
