'use client';

import Link from 'next/link';
import { usePathname } from 'next/navigation';
import { type ReactNode, useEffect, useRef } from 'react';
import { dayWords } from '@/lib/core/handover/days.ts';
import { stages } from '@/lib/core/handover/stages.ts';
import { clock } from '@/lib/core/units.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { PlayerBar } from '../_practice/playerBar.tsx';
import { Button } from './button.tsx';
import { Here } from './here.tsx';
import { Refused } from './refused.tsx';
import { boardAddress, screensOf, screenWords } from './roles.ts';

/** What stands around every screen of a board: whose dance it is, how far it is, who is here, what is saved. */
export function BoardFrame({ children, player = false }: { children: ReactNode; player?: boolean }) {
  const { closed } = useBoard();
  return (
    <>
      <a href="#content" className="sr-only focus:not-sr-only focus:absolute focus:bg-paper focus:p-3">
        To the page
      </a>
      <header className="border-b border-rule">
        <Masthead />
        <Pages />
      </header>
      <Stages />
      <main id="content" tabIndex={-1} className="sheet-page outline-none">
        {closed === null ? null : (
          <p role="alert" className="mb-6 border-l-[3px] border-wine py-1 pl-3 text-wine">
            {closed}
          </p>
        )}
        <Refused />
        {children}
      </main>
      {player ? <PlayerBar /> : null}
    </>
  );
}

function Masthead() {
  const { board, score } = useBoard();
  const { plan } = board;
  const names = plan.couple ? `${plan.couple.one.name} & ${plan.couple.other.name}` : '';
  const facts = [
    score ? `as played ${clock(score.length)}` : null,
    plan.recording ? `recording ${clock(plan.recording.duration)}` : null,
    plan.venue,
  ].filter((fact) => fact);
  return (
    <div className="mx-auto flex max-w-[84rem] flex-wrap items-end justify-between gap-x-8 gap-y-3 px-4 pt-5 pb-3 md:px-10">
      <div className="min-w-0">
        <h1 className="text-3xl leading-tight break-words md:text-4xl">
          {plan.recordingWords?.title || plan.title || 'First dance'}{' '}
          <span className="sung text-xl text-soft md:text-2xl">
            {names ? `first dance of ${names}` : ''}
            {plan.date ? `, ${dayWords(plan.date)}` : ''}
          </span>
        </h1>
        {facts.length > 0 ? <p className="mt-1">{facts.join(' · ')}</p> : null}
      </div>
      <div className="no-print flex flex-wrap items-center gap-x-5 gap-y-1">
        <Here />
        <UndoButtons />
      </div>
    </div>
  );
}

function Pages() {
  const { me } = useBoard();
  const current = usePathname().split('/').at(-1);
  return (
    <div className="no-print mx-auto max-w-[84rem] px-4 md:px-10">
      <nav aria-label="Pages of this board" className="-mx-2">
        <ul className="flex flex-wrap">
          {screensOf[me.role].map((screen) => (
            <li key={screen}>
              <Link
                href={boardAddress(me.board, screen, me.role)}
                prefetch={false}
                aria-current={current === screen ? 'page' : undefined}
                className="flex min-h-11 items-center border-b-2 border-transparent px-2 whitespace-nowrap no-underline hover:border-edge aria-[current=page]:border-ink aria-[current=page]:font-semibold"
              >
                {screenWords[screen]}
              </Link>
            </li>
          ))}
        </ul>
      </nav>
    </div>
  );
}

/** Undo and redo of this person's own changes to the plan, also by the usual keys. */
function UndoButtons() {
  const room = useRoom();
  const { canUndo, canRedo } = useBoard();
  const latest = useRef(room);
  latest.current = room;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const inField =
        event.target instanceof HTMLElement && event.target.closest('input, textarea, [contenteditable]');
      if (inField || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
      event.preventDefault();
      if (event.shiftKey) latest.current.redo();
      else latest.current.undo();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
  if (!room.mayWrite('plan')) return null;
  return (
    <div className="-mx-2 flex shrink-0">
      <Button look="quiet" className="px-2!" disabled={!canUndo} onClick={() => room.undo()}>
        Undo
      </Button>
      <Button look="quiet" className="px-2!" disabled={!canRedo} onClick={() => room.redo()}>
        Redo
      </Button>
    </div>
  );
}

/** What is settled and what is owed, at a glance. */
function Stages() {
  const { board, findings } = useBoard();
  return (
    <div className="border-b border-rule">
      <dl className="mx-auto flex max-w-[84rem] flex-wrap gap-x-8 gap-y-1 px-4 py-2.5 md:px-10">
        {stages(board, findings).map((stage) => (
          <div key={stage.name} className="flex gap-1.5">
            <dt className="text-soft">{stage.name}</dt>
            <dd className={`font-semibold ${stage.settled ? '' : 'text-wine'}`}>
              {stage.words}
              {stage.owedBy ? <span className="font-normal">, {stage.owedBy}</span> : null}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}
