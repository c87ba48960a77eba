'use client';

import dynamic from 'next/dynamic';
import { type ComponentType, useEffect, useId } from 'react';
import type { Me } from '../_client/boardState.ts';
import { buttonClass } from '../_ui/button.tsx';
import { clearOfTop } from '../_ui/clearOf.ts';
import { goesOn } from '../_ui/goesOn.ts';
import { Notice } from '../_ui/notice.tsx';
import { whenIdle } from '../_ui/whenIdle.ts';
import { useDesk } from './desk.tsx';
import { type Drawer, drawers } from './hand.ts';
import { InHand } from './inHand.tsx';

const Waiting = () => (
  <p role="status" className="min-h-24 py-3 text-soft">
    Opening…
  </p>
);
/** What opens comes after the sheet: once there is time, so that it is there without a network, or as soon as it is opened. */
const panels = {
  moves: async () => (await import('./movesPanel.tsx')).MovesPanel,
  walkOn: async () => (await import('./walkOnEditor.tsx')).WalkOnEditor,
  ending: async () => (await import('./endingEditor.tsx')).EndingEditor,
  proposal: async () => (await import('./proposalPanel.tsx')).ProposalPanel,
  marks: async () => (await import('./marksPanel.tsx')).MarksPanel,
};
const later = <P extends object>(load: () => Promise<ComponentType<P>>) =>
  dynamic(load, { ssr: false, loading: Waiting });
const MovesPanel = later(panels.moves);
const WalkOnEditor = later(panels.walkOn);
const EndingEditor = later(panels.ending);
const ProposalPanel = later(panels.proposal);
const MarksPanel = later(panels.marks);

/** What does not come for want of a network comes when it is opened. */
const fetchPanels = () => {
  for (const load of Object.values(panels)) load().catch(() => undefined);
};

const words: Record<Drawer, string> = {
  moves: 'Moves',
  'walk-on': 'Walk-on',
  ending: 'Ending',
  proposal: 'Propose',
  marks: 'Marks',
};

/** The strip over the sheet that stays in reach: what is in hand, and the drawers that change the dance. */
export function DeskStrip({ me }: { me: Me }) {
  const { drawer: opened, open, refused } = useDesk();
  const id = useId();
  useEffect(() => whenIdle(fetchPanels), []);
  return (
    <section
      ref={clearOfTop}
      aria-label="The dance"
      className="no-print sticky top-0 z-10 -mx-4 mb-3 border-b border-edge bg-paper px-4 py-1.5 md:mb-6 md:py-2 md:-mx-10 md:px-10"
    >
      <div className="relative max-sm:goes-on">
        <div
          onScroll={goesOn}
          className="relative -mx-1 flex gap-1 overflow-x-auto p-1 max-sm:pr-8 [scrollbar-width:none] sm:gap-2"
        >
          {drawers.map((name) => (
            <button
              key={name}
              type="button"
              aria-expanded={opened === name}
              aria-controls={id}
              onClick={() => open(opened === name ? null : name)}
              className={buttonClass(opened === name ? 'main' : 'plain', 'shrink-0 max-sm:px-2')}
            >
              <span>
                {words[name]}
                {name === 'proposal' ? <span className="max-sm:sr-only"> a dance</span> : null}
              </span>
            </button>
          ))}
        </div>
      </div>
      {refused ? (
        <div className="mt-2">
          <Notice kind="wrong">{refused}</Notice>
        </div>
      ) : null}
      <div id={id} className={opened ? 'mt-2 max-h-[55vh] overflow-y-auto border-t border-rule pt-3' : ''}>
        {opened === 'moves' ? <MovesPanel me={me} /> : null}
        {opened === 'walk-on' ? <WalkOnEditor /> : null}
        {opened === 'ending' ? <EndingEditor /> : null}
        {opened === 'proposal' ? <ProposalPanel /> : null}
        {opened === 'marks' ? <MarksPanel /> : null}
      </div>
      <div className={opened ? '' : 'max-h-[45vh] overflow-y-auto'}>
        <InHand />
      </div>
    </section>
  );
}
