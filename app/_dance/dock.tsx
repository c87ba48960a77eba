'use client';

import dynamic from 'next/dynamic';
import { type ComponentType, type KeyboardEvent, useEffect, useId, useRef } from 'react';
import type { Me } from '../_client/boardState.ts';
import { laterPart } from '../_client/laterParts.ts';
import { clearOfDock } from '../_ui/clearOf.ts';
import { Notice } from '../_ui/notice.tsx';
import { arrived, usePlace } from '../_ui/place.ts';
import { deskPlace } from '../_ui/stageWays.ts';
import { useDesk } from './desk.tsx';
import { drawers } from './hand.ts';
import { desk as words } from './words.ts';

const Waiting = () => (
  <p role="status" className="min-h-24 py-3 text-soft">
    {words.opening}
  </p>
);
/** What opens comes after the sheet: once there is time, so that it is there without a network, or as soon as it is opened. */
const panel = <P extends object>(load: () => Promise<ComponentType<P>>) =>
  dynamic(laterPart(load), { ssr: false, loading: Waiting });
const MovesPanel = panel(async () => (await import('./movesPanel.tsx')).MovesPanel);
const WalkOnEditor = panel(async () => (await import('./walkOnEditor.tsx')).WalkOnEditor);
const EndingEditor = panel(async () => (await import('./endingEditor.tsx')).EndingEditor);
const ProposalPanel = panel(async () => (await import('./proposalPanel.tsx')).ProposalPanel);
const MarksPanel = panel(async () => (await import('./marksPanel.tsx')).MarksPanel);
const InHand = panel(async () => (await import('./inHand.tsx')).InHand);

const BUTTON =
  'min-h-11 shrink-0 border-b-2 border-transparent px-2 font-semibold max-sm:px-1.5 -outline-offset-3 hover:bg-paper-2 aria-expanded:border-ink aria-expanded:bg-paper-2 xl:px-1.5 2xl:px-2';
/** Beside the sheet over its notes, from under its button to the bar; where there is no room beside it, at the foot. */
const OPEN =
  'overflow-y-auto border-edge bg-paper @container max-xl:max-h-[40dvh] max-xl:border-t xl:absolute xl:top-full xl:right-4 xl:max-h-[calc(100dvh-var(--foot,5rem)-11rem)] xl:w-[21.5rem] xl:border xl:border-t-0 xl:px-4 xl:shadow-[-8px_8px_20px_-12px] xl:shadow-ink/30';

/** What changes the dance, and what is in hand: beside the sheet, on a phone at the foot, and never over its rows. */
export function Dock({ me }: { me: Me }) {
  const { drawer: opened, open, refused, hand } = useDesk();
  const id = useId();
  const tools = useRef<HTMLDivElement>(null);
  useLedHere();
  const isOpen = opened !== null || hand.kind !== 'nothing' || refused !== '';
  const close = () => {
    tools.current?.querySelector<HTMLElement>('[aria-expanded=true]')?.focus();
    open(null);
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || opened === null) return;
    event.stopPropagation();
    close();
  };
  return (
    <section
      ref={clearOfDock}
      aria-label={words.name}
      data-covers=""
      onKeyDown={onKey}
      className="no-print max-xl:fixed max-xl:inset-x-0 max-xl:bottom-[calc(var(--foot,2px)-2px)] max-xl:border-t max-xl:border-edge max-xl:bg-paper max-xl:px-4 md:max-xl:px-10"
    >
      <div
        ref={tools}
        className="-mx-2 flex justify-between overflow-x-auto [scrollbar-width:none] md:max-xl:justify-start md:max-xl:gap-x-4"
      >
        {drawers.map((name) => (
          <button
            key={name}
            type="button"
            aria-expanded={opened === name}
            aria-controls={id}
            onClick={() => open(opened === name ? null : name)}
            className={BUTTON}
          >
            {words.drawers[name]}
            {words.more[name] ? <span className="sr-only">{words.more[name]}</span> : null}
            {opened === name ? (
              <span aria-hidden="true" className="ml-1 font-normal text-soft">
                ×
              </span>
            ) : null}
          </button>
        ))}
      </div>
      <div id={id} className={isOpen ? OPEN : undefined}>
        {refused ? (
          <div className="pt-2">
            <Notice kind="wrong">{refused}</Notice>
          </div>
        ) : null}
        {opened ? (
          <div key={opened} className="unfolds pt-2">
            {opened === 'moves' ? <MovesPanel me={me} /> : null}
            {opened === 'walk-on' ? <WalkOnEditor /> : null}
            {opened === 'ending' ? <EndingEditor /> : null}
            {opened === 'proposal' ? <ProposalPanel /> : null}
            {opened === 'marks' ? <MarksPanel /> : null}
          </div>
        ) : hand.kind === 'nothing' ? null : (
          <InHand />
        )}
      </div>
    </section>
  );
}

/** A stage leads to what the dance lacks: that part opens, and what settles it there has the focus. */
function useLedHere(): void {
  const { open } = useDesk();
  const place = usePlace();
  useEffect(() => {
    const led = drawers.find((name) => deskPlace(name) === place);
    if (!led) return;
    open(led);
    // What has no one tap that settles it is only opened; else the focus goes on to that, once it is there.
    if (led === 'moves' || led === 'marks') arrived();
  }, [place, open]);
}
