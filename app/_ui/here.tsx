'use client';

import type { Presence } from '../_client/boardState.ts';
import { useBoard, usePlan } from '../_client/room.tsx';
import { roleWords } from './roles.ts';
import { type Seat, seatsOf } from './seats.ts';
import { useLasting } from './useLasting.ts';
import { frame } from './words.ts';

const savedWords = {
  saved: 'saved',
  saving: 'saving…',
  offline: 'no connection: kept on this device',
};

/** "Inês", or "couple" where no name is known; "(you)" after one's own. */
export const personWords = ({ name, role, me }: Presence): string =>
  `${name || roleWords[role]}${me ? ` ${frame.you}` : ''}`;

/** Nothing reaches the server, and not only for a moment. */
export const useCutOff = (): boolean => {
  const { saving, closed } = useBoard('saving', 'closed');
  return useLasting(saving === 'offline') || closed !== null;
};

/** Whether what was written is stored, and who of this board's people has it open: a circle each, dotted for whoever is not here, as far as there is room. */
export function Here({ cutOff }: { cutOff: boolean }) {
  const { people, saving, kept, closed } = useBoard('people', 'saving', 'kept', 'closed');
  const seats = seatsOf(people, usePlan());
  const others = seats.filter(({ here, me }) => here && !me);
  return (
    <div
      className={`no-print flex items-center gap-x-2 gap-y-1 max-md:order-3 ${cutOff ? 'flex-wrap max-md:col-span-3' : 'justify-end max-md:col-start-3'}`}
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
      <ul aria-label={frame.peopleHere} className="flex items-center gap-x-1">
        {seats.map((seat) => (
          <Circle key={seat.key} seat={seat} hasRoom={others.indexOf(seat) < MOST} />
        ))}
        <Crowd others={others.slice(MOST)} />
      </ul>
    </div>
  );
}

/** Circles of others who are here: with more of them the title beside them would have no room. */
const MOST = 3;

/** How many more are here, with their names under the pointer. */
function Crowd({ others }: { others: readonly Seat[] }) {
  if (others.length === 0) return null;
  return (
    <li aria-hidden="true" title={others.map(({ words }) => words).join(', ')} className="text-sm">
      +{others.length}
    </li>
  );
}

/** For who hears the page all are told, whether or not there is room for a circle. */
function Circle({ seat: { words, letters, here, me }, hasRoom }: { seat: Seat; hasRoom: boolean }) {
  const more = me ? ` ${frame.you}` : here ? '' : `, ${frame.notHere}`;
  const look = here ? 'border-ink' : 'border-dotted border-edge text-soft max-md:hidden';
  return (
    <li
      title={`${words}${more}`}
      className={
        !hasRoom
          ? 'sr-only'
          : `grid h-7 min-w-7 place-items-center rounded-full border px-1 text-sm ${look} ${me ? 'bg-paper-2 font-semibold' : ''}`
      }
    >
      <span aria-hidden="true">{letters}</span>
      <span className="sr-only">
        <bdi>{words}</bdi>
        {more}
      </span>
    </li>
  );
}
