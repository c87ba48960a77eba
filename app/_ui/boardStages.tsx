import Link from 'next/link';
import { usePathname } from 'next/navigation';
import { type MouseEvent, useId, useState } from 'react';
import type { Finding } from '@/lib/core/checks/finding.ts';
import { owes } from '@/lib/core/handover/owed.ts';
import type { Stage } from '@/lib/core/handover/stages.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { personWords } from './here.tsx';
import { leadTo } from './place.ts';
import { boardAddress } from './roles.ts';
import { wayOf } from './stageWays.ts';
import { useLasting } from './useLasting.ts';
import { frame } from './words.ts';

/**
 * Five stages, each a way to what is owed; what this person owes stands out. On a phone folded to one line that says how much; on a
 * tablet two lines are kept for them, so that the page stays where it is when they come.
 */
export function BoardStages({ facts }: { facts: string }) {
  const { checked, me, people, saving } = useBoard('checked', 'me', 'people', 'saving');
  const looking = useLasting(saving === 'offline') ? frame.noNetwork : frame.looking;
  const [open, setOpen] = useState(false);
  const id = useId();
  const all = checked?.stages ?? null;
  const owed = all?.filter(({ settled }) => !settled) ?? [];
  const mine = owed.filter(({ owedBy }) => owes(me.role, owedBy)).length;
  return (
    <nav aria-label={frame.stages} className="border-t border-rule">
      <button
        type="button"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
        className="no-print flex min-h-11 w-full items-center justify-between px-4 text-left font-semibold md:hidden"
      >
        <span className={mine > 0 ? 'text-wine' : ''}>
          {all ? frame.open(mine, owed.length - mine) : looking}
        </span>
        <span aria-hidden="true" className="text-soft">
          {open ? '▴' : '▾'}
        </span>
      </button>
      <div
        id={id}
        className={`mx-auto max-w-[120rem] px-4 max-md:pb-3 md:flex md:items-center md:max-xl:min-h-22 short:min-h-11! md:justify-between md:gap-x-8 md:px-10 print:block ${open ? '' : 'max-md:hidden'}`}
      >
        {all ? null : <p className="content-center text-soft md:min-h-11 max-md:hidden">{looking}</p>}
        <ul className="flex min-w-0 flex-wrap gap-x-6 max-md:flex-col xl:flex-nowrap xl:gap-x-5 md:short:flex-nowrap md:short:overflow-x-auto md:short:whitespace-nowrap">
          {all?.map((stage) => (
            <li key={stage.name} className="min-w-0">
              <StageWay stage={stage} findings={checked?.findings ?? []} me={me} />
            </li>
          ))}
        </ul>
        {facts ? (
          <p
            title={facts}
            className="min-w-0 flex-[1_1_0] text-soft md:max-xl:hidden xl:truncate xl:text-right print:block"
          >
            {facts}
          </p>
        ) : null}
        <p className="no-print mt-1 text-soft md:hidden">
          {frame.peopleHere}: {people.map(personWords).join(', ')}
        </p>
      </div>
    </nav>
  );
}

const LINE = '-mx-1.5 flex min-h-11 items-center px-1.5 no-underline xl:whitespace-nowrap';

/** What one stage says, and the way to it. */
function StageWay({ stage, findings, me }: { stage: Stage; findings: readonly Finding[]; me: Me }) {
  const here = usePathname().split('/').at(-1);
  const way = wayOf(stage, findings, me.role);
  const words = <StageWords stage={stage} me={me} />;
  if (!way) return <span className={LINE}>{words}</span>;
  const { screen, place } = way;
  const onClick = (event: MouseEvent) => {
    if (screen !== here || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    leadTo(place || 'content');
  };
  return (
    <Link
      href={`${boardAddress(me.board, screen, me.role)}${place ? `#${encodeURIComponent(place)}` : ''}`}
      prefetch={false}
      scroll={place === ''}
      onClick={onClick}
      className={`${LINE} rounded -outline-offset-3 hover:bg-paper-2`}
    >
      {words}
    </Link>
  );
}

function StageWords({ stage, me }: { stage: Stage; me: Me }) {
  const { name, settled, owedBy, todo } = stage;
  const mine = owes(me.role, owedBy);
  const words = (me.role === 'dj' && stage.toDj) || stage.words;
  return (
    <span className="min-w-0 xl:truncate">
      <span className="text-soft">{name} </span>
      {/* Anew when it changes, so that what arrives is seen to arrive. */}
      <span
        key={words}
        className={`arrives ${settled ? 'font-semibold' : mine ? 'font-semibold text-wine underline decoration-1 underline-offset-4' : 'text-ink'}`}
      >
        {words}
        {mine && todo ? frame.todo(todo) : null}
      </span>
      {mine || owedBy === null ? null : <span className="text-soft">{frame.with(owedBy, todo)}</span>}
    </span>
  );
}
