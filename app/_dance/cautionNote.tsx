import { cautionWords, generalCaution } from '@/lib/core/dance/cautions.ts';
import type { Move } from '@/lib/core/dance/move.ts';

/** What to mind with a move that can hurt somebody, its safer form, and whose word comes first. */
export function CautionNote({ move }: { move: Move }) {
  if (move.cautions.length === 0) return null;
  return (
    <div className="max-w-2xl border-l-[3px] border-wine pl-3">
      <p className="text-sm font-semibold text-wine">take care</p>
      <ul className="space-y-1">
        {move.cautions.map((caution) => (
          <li key={caution}>{cautionWords[caution]}</li>
        ))}
      </ul>
      {move.saferForm ? (
        <p className="mt-1">
          <span className="font-semibold">Safer:</span> {move.saferForm}
        </p>
      ) : null}
      <p className="mt-1 text-soft">{generalCaution}</p>
    </div>
  );
}
