import { useId, useState } from 'react';
import { useBoard } from '../_client/room.tsx';
import { personWords } from './here.tsx';
import { useLasting } from './useLasting.ts';

/** What is settled and what is owed, at a glance; on a phone folded to one line that says how much is open. */
export function BoardStages({ facts }: { facts: string }) {
  const { checked, me, people, saving } = useBoard('checked', 'me', 'people', 'saving');
  const looking = useLasting(saving === 'offline') ? NO_NETWORK : LOOKING;
  const [open, setOpen] = useState(false);
  const id = useId();
  const all = checked?.stages ?? null;
  const owed = all?.filter(({ settled }) => !settled).length ?? 0;
  return (
    <div className="border-b border-rule">
      <button
        type="button"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
        className="no-print flex min-h-11 w-full items-center justify-between px-4 text-left font-semibold md:hidden"
      >
        <span className={owed > 0 ? 'text-wine' : ''}>{all ? openWords(owed) : looking}</span>
        <span aria-hidden="true" className="text-soft">
          {open ? '▴' : '▾'}
        </span>
      </button>
      <div
        id={id}
        className={`mx-auto max-w-[84rem] px-4 pb-3 md:block md:px-10 md:py-2.5 print:block ${open ? '' : 'hidden'}`}
      >
        {facts ? <p className="md:hidden">{facts}</p> : null}
        {all ? null : <p className="text-soft max-md:hidden">{looking}</p>}
        <dl className="flex flex-wrap gap-x-8 gap-y-1 max-md:mt-1 max-md:flex-col">
          {all?.map((stage) => (
            <div key={stage.name} className="flex gap-1.5">
              <dt className="shrink-0 text-soft">{stage.name}</dt>
              <dd className={`font-semibold ${stage.settled ? '' : 'text-wine'}`}>
                {(me.role === 'dj' && stage.toDj) || stage.words}
                {stage.owedBy ? (
                  <span className="font-normal text-soft">
                    {' '}
                    ({stage.owedBy}
                    {stage.todo ? ` ${stage.todo}` : ''})
                  </span>
                ) : null}
              </dd>
            </div>
          ))}
        </dl>
        <p className="no-print mt-1 text-soft md:hidden">Here now: {people.map(personWords).join(', ')}</p>
      </div>
    </div>
  );
}

const LOOKING = 'Seeing what is settled…';
const NO_NETWORK = 'What is settled shows once there is a network.';

/** "3 things open" */
const openWords = (owed: number): string =>
  owed === 0 ? 'All is settled' : `${owed} ${owed === 1 ? 'thing' : 'things'} open`;
