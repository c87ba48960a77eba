'use client';

import type { ReactNode } from 'react';
import { dayWords } from '@/lib/core/areas/days.ts';
import { clock } from '@/lib/core/units.ts';
import { closings, FROZEN } from '@/lib/protocol/close.ts';
import { useBoard, usePlan, useRoom } from '../_client/room.tsx';
import { useSilence } from '../_practice/player.ts';
import { PlayerBar } from '../_practice/playerBar.tsx';
import { BoardStages } from './boardStages.tsx';
import { BoardTabs } from './boardTabs.tsx';
import { Button } from './button.tsx';
import { clearOfFoot } from './clearOf.ts';
import { Here, useCutOff } from './here.tsx';
import { Left } from './left.tsx';
import { LostNotices } from './lostNotices.tsx';
import { Names } from './names.tsx';
import { PutRight } from './putRight.tsx';
import { Refused } from './refused.tsx';
import { UndoButtons } from './undoButtons.tsx';

/** What stands around every screen of a board: whose dance it is, how far it is, who is here, what is saved. */
export function BoardFrame({ children, player = false }: { children: ReactNode; player?: boolean }) {
  const { me, apart, closed, passing, refusal } = useBoard('me', 'apart', 'closed', 'passing', 'refusal');
  const facts = useFacts();
  useSilence(!player);
  return (
    <>
      <a href="#content" className="sr-only focus:not-sr-only focus:absolute focus:bg-paper focus:p-3">
        To the page
      </a>
      <header className="border-b border-rule">
        <Masthead facts={facts} />
        <BoardTabs />
      </header>
      <BoardStages facts={facts} />
      <main id="content" tabIndex={-1} className="sheet-page outline-none">
        {closed === null || refusal?.sentence === closed ? null : (
          <p role="alert" className="mb-6 border-l-[3px] border-wine py-1 pl-3 text-wine">
            {closed}
          </p>
        )}
        {closed === closings.reload.sentence ? (
          <p className="mb-6">
            <Button onClick={() => window.location.reload()}>Reload it</Button>
          </p>
        ) : null}
        {apart === '' ? null : <PutRight me={me} apart={apart} />}
        {me.frozen ? <p className="mb-6 border-l-[3px] border-wine py-1 pl-3 text-wine">{FROZEN}</p> : null}
        {closed === null && passing !== null ? (
          <p role="status" className="mb-6 border-l-[3px] border-edge py-1 pl-3">
            {passing}
          </p>
        ) : null}
        <Refused />
        <Left />
        {children}
      </main>
      <div ref={clearOfFoot} className="no-print fixed inset-x-0 bottom-0 z-20">
        <LostNotices />
        {player ? <PlayerBar /> : null}
      </div>
    </>
  );
}

/** "as played 3:20 · recording 4:40 · Tillenwick Boathouse": to the last sound, as on every paper. */
function useFacts(): string {
  const { board, score } = useBoard('board', 'score');
  const { plan } = board;
  const facts = [
    score ? `as played ${clock(score.musicLength)}` : null,
    plan.recording ? `recording ${clock(plan.recording.duration)}` : null,
    plan.venue,
  ];
  return facts.filter((fact) => fact).join(' · ');
}

/** Letters of a title, or of two names, that take more than two lines in large type. */
const LONG = 48;

/**
 * Whose dance, and when: the names have the width to themselves, beneath them how long it is and who is here. On a phone each is
 * one line, beside undo and who is here; what does not fit there stands in full in the fold below.
 */
function Masthead({ facts }: { facts: string }) {
  const plan = usePlan();
  const { couple } = plan;
  const mayUndo = useRoom().mayWrite('plan');
  const cutOff = useCutOff();
  const day = dayWords(plan.date);
  const named = plan.recordingWords?.title || plan.title;
  const title = named || 'First dance';
  const names = couple ? couple.one.name.length + couple.other.name.length : 0;
  return (
    <div className="mx-auto grid max-w-[84rem] grid-cols-[minmax(0,1fr)_auto] items-center gap-x-3 px-4 pt-1 md:flex md:flex-wrap md:gap-x-8 md:gap-y-1 md:px-10 md:pt-5 md:pb-2">
      <div
        className={`max-md:contents md:flex md:flex-wrap md:items-baseline md:gap-x-3 md:gap-y-1 ${facts ? 'md:basis-full' : 'md:min-w-0 md:flex-1'}`}
      >
        <h1
          dir="auto"
          className={`text-2xl leading-tight max-md:order-1 max-md:truncate max-md:text-left md:wrap-anywhere ${mayUndo ? '' : 'max-md:col-span-2 max-md:py-2'} ${title.length > LONG ? '' : 'md:text-4xl'}`}
        >
          {title}
        </h1>
        <p
          className={`sung text-soft max-md:order-3 max-md:col-start-1 max-md:truncate md:wrap-anywhere ${names > LONG ? 'md:text-xl' : 'md:text-2xl'} ${cutOff ? 'max-md:col-span-2' : ''}`}
        >
          {couple ? (
            <>
              {named ? 'first dance of' : 'of'} <Names one={couple.one.name} other={couple.other.name} />
            </>
          ) : null}
          {couple && day ? ', ' : ''}
          {day}
        </p>
      </div>
      {facts ? <p className="wrap-anywhere max-md:hidden print:block">{facts}</p> : null}
      <div className="no-print max-md:contents md:ml-auto md:flex md:flex-wrap md:items-center md:justify-end md:gap-x-5 md:gap-y-1">
        <Here cutOff={cutOff} />
        <UndoButtons />
      </div>
    </div>
  );
}
