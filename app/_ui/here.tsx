'use client';

import type { Presence } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { roleWords } from './roles.ts';
import { useLasting } from './useLasting.ts';

const savedWords = {
  saved: 'saved',
  saving: 'saving…',
  offline: 'no connection: kept on this device',
};

/** "Inês", or "couple" where no name is known; "(you)" after one's own. */
export const personWords = ({ name, role, me }: Presence): string =>
  `${name || roleWords[role]}${me ? ' (you)' : ''}`;

/** Nothing reaches the server, and not only for a moment. */
export const useCutOff = (): boolean => {
  const { saving, closed } = useBoard('saving', 'closed');
  return useLasting(saving === 'offline') || closed !== null;
};

/** Who has the board open, and whether what was written is stored. On a phone of the people the initials. */
export function Here({ cutOff }: { cutOff: boolean }) {
  const { people, saving, kept, closed } = useBoard('people', 'saving', 'kept', 'closed');
  return (
    <div
      className={`no-print flex flex-wrap items-center gap-x-2 gap-y-1 max-md:order-4 md:justify-end md:gap-x-5 ${cutOff ? 'max-md:col-span-2 max-md:col-start-1' : 'max-md:col-start-2'}`}
    >
      <p role="status" className={cutOff ? 'font-semibold text-wine' : 'text-soft'}>
        {closed !== null
          ? 'no longer connected'
          : saving === 'offline' && !cutOff
            ? 'connecting…'
            : saving === 'offline' && !kept
              ? 'no connection: keep this page open'
              : savedWords[saving]}
      </p>
      <ul aria-label="Here now" className="flex flex-wrap gap-x-1 gap-y-1 md:justify-end md:gap-x-4">
        {people.map((person) => (
          <li key={person.key} className="flex items-center gap-1.5">
            <span
              aria-hidden="true"
              className={`grid size-6 place-items-center rounded-full border border-ink text-sm md:size-8 ${person.me ? 'bg-paper-2' : ''}`}
            >
              {initialOf(person.name || roleWords[person.role])}
            </span>
            <bdi className="max-md:sr-only">{personWords(person)}</bdi>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The first letter, whatever the alphabet and however many code units it takes. */
const initialOf = (name: string): string => [...name][0]?.toUpperCase() ?? '';
