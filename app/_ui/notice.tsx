import type { ReactNode } from 'react';

/** One clear sentence: wrong (wine, an alert), settled (moss) or plain. */
export function Notice({
  kind = 'plain',
  children,
}: {
  kind?: 'wrong' | 'settled' | 'plain';
  children: ReactNode;
}) {
  const edge = {
    wrong: 'border-wine text-wine',
    settled: 'border-moss text-ink',
    plain: 'border-edge text-ink',
  }[kind];
  return (
    <p role={kind === 'wrong' ? 'alert' : 'status'} className={`border-l-[3px] py-1 pl-3 text-base ${edge}`}>
      {children}
    </p>
  );
}

/** While something is read or computed: says what, and how far when known (0 to 1). */
export function Progress({ what, share, onCancel }: { what: string; share?: number; onCancel?: () => void }) {
  return (
    <div role="status" className="max-w-xl">
      <p className="mb-1 flex items-baseline justify-between gap-4">
        <span>{what}</span>
        {onCancel ? (
          <button
            type="button"
            onClick={onCancel}
            className="min-h-11 px-2 font-semibold underline underline-offset-4"
          >
            Stop
          </button>
        ) : null}
      </p>
      <progress className="h-2 w-full" value={share} max={1} aria-label={what} />
    </div>
  );
}
