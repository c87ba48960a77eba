'use client';

import { useBoard } from '../_client/room.tsx';
import { roleWords } from './roles.ts';

const savedWords = {
  saved: 'saved',
  saving: 'saving…',
  offline: 'no connection: kept on this device',
};

/** Who has the board open, and whether what was written is stored. */
export function Here() {
  const { people, saving } = useBoard();
  return (
    <div className="no-print flex flex-wrap items-center gap-x-5 gap-y-1">
      <p role="status" className={saving === 'offline' ? 'font-semibold text-wine' : 'text-soft'}>
        {savedWords[saving]}
      </p>
      <ul aria-label="Here now" className="flex flex-wrap gap-x-4 gap-y-1">
        {people.map((person) => (
          <li key={person.key} className="flex items-center gap-1.5">
            <span
              aria-hidden="true"
              className={`grid size-8 place-items-center rounded-full border text-sm ${person.me ? 'border-ink bg-paper-2' : 'border-ink'}`}
            >
              {(person.name || roleWords[person.role]).slice(0, 1).toUpperCase()}
            </span>
            <span>
              {person.name || roleWords[person.role]}
              {person.me ? ' (you)' : ''}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
