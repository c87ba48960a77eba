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
          <Circle key={seat.key} seat={seat} room={roomFor(others.indexOf(seat))} />
        ))}
        <Crowd others={others.slice(MOST.phone)} className="md:hidden" />
        <Crowd others={others.slice(MOST.desk)} className="max-md:hidden" />
      </ul>
    </div>
  );
}

/** Circles of others who are here: more of them, and the title beside them would have no room. */
const MOST = { phone: 2, desk: 7 } as const;

/** For who hears the page all are told, whether or not there is room for a circle. */
const roomFor = (place: number): string =>
  place >= MOST.desk ? 'sr-only min-w-0!' : place >= MOST.phone ? 'max-md:sr-only max-md:min-w-0' : '';

/** How many more are here, with their names under the pointer. */
function Crowd({ others, className }: { others: readonly Seat[]; className: string }) {
  if (others.length === 0) return null;
  return (
    <li
      aria-hidden="true"
      title={others.map(({ words }) => words).join(', ')}
      className={`text-sm ${className}`}
    >
      +{others.length}
    </li>
  );
}

function Circle({ seat: { words, letters, here, me }, room }: { seat: Seat; room: string }) {
  const more = me ? ` ${frame.you}` : here ? '' : `, ${frame.notHere}`;
  const look = here ? `border-ink ${room}` : 'border-dotted border-edge text-soft max-md:hidden';
  return (
    <li
      title={`${words}${more}`}
      className={`grid h-7 min-w-7 place-items-center rounded-full border px-1 text-sm ${look} ${me ? 'bg-paper-2 font-semibold' : ''}`}
    >
      <span aria-hidden="true">{letters}</span>
      <span className="sr-only">
        <bdi>{words}</bdi>
        {more}
      </span>
    </li>
  );
}
