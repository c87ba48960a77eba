'use client';

import { useId, useRef } from 'react';
import type { Me } from '../_client/boardClient.ts';
import { buttonClass } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { useDesk } from './desk.tsx';
import { EndingEditor } from './endingEditor.tsx';
import { type Drawer, drawers } from './hand.ts';
import { InHand } from './inHand.tsx';
import { MarksPanel } from './marksPanel.tsx';
import { MovesPanel } from './movesPanel.tsx';
import { ProposalPanel } from './proposalPanel.tsx';
import { useScrollPadding } from './useScrollPadding.ts';
import { WalkOnEditor } from './walkOnEditor.tsx';

const words: Record<Drawer, string> = {
  moves: 'Moves',
  'walk-on': 'Walk-on',
  ending: 'Ending',
  proposal: 'Propose',
  marks: 'Marks',
};

/** The strip over the sheet that stays in reach: what is in hand, and the drawers that change the dance. */
export function DeskStrip({ me }: { me: Me }) {
  const { drawer, open, refused } = useDesk();
  const id = useId();
  const strip = useRef<HTMLElement>(null);
  useScrollPadding(strip);
  return (
    <section
      ref={strip}
      aria-label="The dance"
      className="no-print sticky top-0 z-10 -mx-4 mb-3 border-b border-edge bg-paper px-4 py-1.5 md:mb-6 md:py-2 md:-mx-10 md:px-10"
    >
      <div className="-mx-1 flex gap-1 overflow-x-auto p-1 [scrollbar-width:none] sm:gap-2">
        {drawers.map((name) => (
          <button
            key={name}
            type="button"
            aria-expanded={drawer === name}
            aria-controls={id}
            onClick={() => open(drawer === name ? null : name)}
            className={buttonClass(drawer === name ? 'main' : 'plain', 'shrink-0 max-sm:px-2')}
          >
            <span>
              {words[name]}
              {name === 'proposal' ? <span className="max-sm:sr-only"> a dance</span> : null}
            </span>
          </button>
        ))}
      </div>
      {refused ? (
        <div className="mt-2">
          <Notice kind="wrong">{refused}</Notice>
        </div>
      ) : null}
      <div id={id} className={drawer ? 'mt-2 max-h-[55vh] overflow-y-auto border-t border-rule pt-3' : ''}>
        {drawer === 'moves' ? <MovesPanel me={me} /> : null}
        {drawer === 'walk-on' ? <WalkOnEditor /> : null}
        {drawer === 'ending' ? <EndingEditor /> : null}
        {drawer === 'proposal' ? <ProposalPanel /> : null}
        {drawer === 'marks' ? <MarksPanel /> : null}
      </div>
      <div className={drawer ? '' : 'max-h-[45vh] overflow-y-auto'}>
        <InHand />
      </div>
    </section>
  );
}
