'use client';

import Link from 'next/link';
import type { ReactNode } from 'react';
import { dayWords } from '@/lib/core/areas/days.ts';
import { clock } from '@/lib/core/units.ts';
import { closings, FROZEN } from '@/lib/protocol/close.ts';
import { useBoard, usePlan } from '../_client/room.tsx';
import { useSilence } from '../_client/silence.ts';
import { BoardStages } from './boardStages.tsx';
import { BoardTabs } from './boardTabs.tsx';
import { Button } from './button.tsx';
import { clearOfFoot } from './clearOf.ts';
import { Here, useCutOff } from './here.tsx';
import { later } from './later.tsx';
import { Left } from './left.tsx';
import { LostNotices } from './lostNotices.tsx';
import { Names } from './names.tsx';
import { useLeading } from './place.ts';
import { PutRight } from './putRight.tsx';
import { Refused } from './refused.tsx';
import { UndoButtons } from './undoButtons.tsx';
import { frame } from './words.ts';

/** Comes after the page: nobody has done anything yet. */
const LastGesture = later(async () => (await import('./lastGesture.tsx')).LastGesture);

interface Props {
  children: ReactNode;
  /** What plays at the foot, on a page that has music to play. */
  bar?: ReactNode;
  /** It uses the width of a large screen; else a line of text stays one that can be read. */
  wide?: boolean;
}

/** What stands around every screen of a board: whose dance it is, how far it is, who is here, what is saved. */
export function BoardFrame({ children, bar = null, wide = false }: Props) {
  const { me, apart, closed, passing, refusal } = useBoard('me', 'apart', 'closed', 'passing', 'refusal');
  const facts = useFacts();
  useSilence(bar === null);
  useLeading();
  return (
    <>
      <a href="#content" className="sr-only focus:not-sr-only focus:absolute focus:bg-paper focus:p-3">
        {frame.toThePage}
      </a>
      <header className="border-b border-rule">
        <Masthead />
        <BoardStages facts={facts} />
      </header>
      <main id="content" tabIndex={-1} className="board-page outline-none">
        <div className={wide ? undefined : 'max-w-[79rem]'}>
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
        </div>
      </main>
      <div
        ref={clearOfFoot}
        data-covers=""
        className="no-print pointer-events-none fixed inset-x-0 bottom-0 z-20 *:pointer-events-auto"
      >
        <LastGesture />
        <LostNotices />
        {bar}
      </div>
    </>
  );
}

/** "music as played 3:20 · recording 4:40 · Tillenwick Boathouse": to the last sound, as on every paper. */
function useFacts(): string {
  const { board, score } = useBoard('board', 'score');
  const { plan } = board;
  const facts = [
    score ? frame.music(clock(score.musicLength)) : null,
    plan.recording ? frame.recording(clock(plan.recording.duration)) : null,
    plan.venue,
  ];
  return facts.filter((fact) => fact).join(' · ');
}

/**
 * Whose dance, and when; the pages; what is saved and who is here: one line on a desk, two where there is less room. What does not
 * fit is cut there, and stands in full under the pointer.
 */
function Masthead() {
  const plan = usePlan();
  const { me } = useBoard('me');
  const cutOff = useCutOff();
  const { couple } = plan;
  const day = dayWords(plan.date);
  const named = plan.recordingWords?.title || plan.title;
  const title = named || frame.firstDance;
  return (
    <div className="mx-auto grid max-w-[120rem] grid-cols-[auto_minmax(0,1fr)_auto] items-center px-4 md:grid-cols-[minmax(0,1fr)_auto] md:gap-x-3 md:px-10 xl:flex xl:gap-x-4">
      <div className="max-md:contents md:grid md:grid-cols-[auto_minmax(0,1fr)] md:items-center md:py-1 xl:min-w-40 xl:flex-1">
        {me.role === 'instructor' ? <ToStudio /> : null}
        <h1
          dir="auto"
          title={title}
          className="truncate py-1 text-left text-[1.35rem] leading-tight max-md:col-start-2 max-md:py-2 md:col-start-2 md:py-0"
        >
          {title}
        </h1>
        <p
          className={`sung truncate leading-tight text-soft max-md:order-2 max-md:col-start-1 md:col-start-2 ${cutOff ? 'max-md:col-span-3' : 'max-md:col-span-2'}`}
          title={couple ? namesOf(couple) : undefined}
        >
          {couple ? (
            <>
              <span className="max-md:hidden">{frame.danceOf(named !== '')} </span>
              <Names one={couple.one.name} other={couple.other.name} />
            </>
          ) : null}
          {couple && day ? ', ' : ''}
          {day}
        </p>
      </div>
      <div className="no-print max-md:contents md:flex md:items-center md:justify-end md:gap-x-2 xl:order-2">
        <UndoButtons />
        <Here cutOff={cutOff} />
      </div>
      <div className="min-w-0 max-md:order-4 max-md:col-span-3 md:max-xl:col-span-2 xl:order-1">
        <BoardTabs />
      </div>
    </div>
  );
}

const namesOf = ({ one, other }: { one: { name: string }; other: { name: string } }): string =>
  `${one.name} & ${other.name}`;

/** From every board back to all of them. */
function ToStudio() {
  return (
    <Link
      href="/"
      prefetch={false}
      title={frame.allCouples}
      className="no-print -ml-3 grid size-11 shrink-0 place-items-center hover:bg-paper-2 md:row-span-2"
    >
      <span className="sr-only">{frame.allCouples}</span>
      <svg viewBox="0 0 24 24" className="size-5 fill-none stroke-current stroke-2" aria-hidden="true">
        <path d="M14 5l-7 7 7 7" />
      </svg>
    </Link>
  );
}
