'use client';

import { useId, useState } from 'react';
import type { Role } from '@/lib/core/areas/people.ts';
import type { MadeWith } from '@/lib/protocol/api.ts';
import { Asking } from '../_ui/asking.tsx';
import { roleWords } from '../_ui/roles.ts';

/** `one other link` or `3 other links`. */
const others = (count: number): string => (count === 1 ? 'one other link' : `${count} other links`);

/** Before a link is taken back; the instructor says what becomes of those that were made with it. */
export function AskRevoke({
  role,
  made,
  mayKeep,
  onNo,
  onYes,
}: {
  role: Role;
  /** How many were made with it. */
  made: number;
  mayKeep: boolean;
  onNo: () => void;
  onYes: (madeWith: MadeWith) => void;
}) {
  const [madeWith, setMadeWith] = useState<MadeWith>('end');
  const name = useId();
  const choices: [MadeWith, string][] = [
    ['end', made === 1 ? 'it ends too' : 'they end too'],
    ['keep', made === 1 ? 'it stays, as yours' : 'they stay, as yours'],
  ];
  return (
    <Asking
      title={`Take back this link for the ${roleWords[role]}?`}
      yes="Take it back"
      onNo={onNo}
      onYes={() => onYes(madeWith)}
    >
      <p>Whoever came by it is out at once. What they wrote stays on the board.</p>
      {made > 0 && mayKeep ? (
        <fieldset>
          <legend>
            With it {made === 1 ? 'was' : 'were'} made {others(made)}:
          </legend>
          {choices.map(([choice, words]) => (
            <label key={choice} className="flex min-h-11 items-center gap-3">
              <input
                type="radio"
                name={name}
                className="size-5 accent-ink"
                checked={madeWith === choice}
                onChange={() => setMadeWith(choice)}
              />
              {words}
            </label>
          ))}
        </fieldset>
      ) : null}
      {made > 0 && !mayKeep ? <p>So is whoever came by {others(made)} made with it.</p> : null}
    </Asking>
  );
}

/** Before a link is stopped from writing. */
export function AskFreeze({
  role,
  made,
  onNo,
  onYes,
}: {
  role: Role;
  made: number;
  onNo: () => void;
  onYes: () => void;
}) {
  return (
    <Asking
      title={`Stop this link for the ${roleWords[role]} from writing?`}
      yes="Stop it from writing"
      no="Leave it as it is"
      onNo={onNo}
      onYes={onYes}
    >
      <p>
        Its people read on and change nothing, until you let them. What they wrote stays on the board; they
        are told who stopped it.
      </p>
      {made > 0 ? <p>The same holds for {others(made)} made with it.</p> : null}
    </Asking>
  );
}
