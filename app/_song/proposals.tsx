'use client';

import { useState } from 'react';
import { compileEdit, musicEnd } from '@/lib/core/edit/compile.ts';
import { digestOf } from '@/lib/core/edit/digest.ts';
import type { Proposal } from '@/lib/core/edit/propose.ts';
import type { ProposalKind } from '@/lib/core/edit/ranking.ts';
import { median } from '@/lib/core/signal/statistics.ts';
import { clock } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { HearEdit } from './hearEdit.tsx';
import { SeamFacts } from './seamFacts.tsx';
import type { SongChange } from './useSongChange.tsx';

const kindWords: Record<ProposalKind, string> = {
  'own length': 'the whole song',
  fade: 'a fade',
  splice: 'a join',
  'splice and fade': 'a join and a fade',
};

/** The place of the list; one tap there chooses the best. */
export const PROPOSALS = 'proposals';

/** Ranked edits: what is played and left out, how well the join holds; each can be heard before it is chosen. */
export function Proposals({ proposals, change }: { proposals: Proposal[]; change: SongChange }) {
  const plan = usePlan();
  const [all, setAll] = useState(false);
  if (proposals.length === 0) {
    return <p className="mt-3">No edit keeps all that must be heard. Ask for less, or make one by hand.</p>;
  }
  const { recording, edit } = plan;
  const chosen = recording && edit ? digestOf(edit, recording) : null;
  const shown = all ? proposals : proposals.slice(0, 5);
  return (
    <>
      <ol id={PROPOSALS} className="mt-4 border-t border-rule" aria-label="Proposed edits, the best first">
        {shown.map((proposal, i) => (
          <OneProposal
            key={JSON.stringify(proposal.edit)}
            proposal={proposal}
            chosen={recording !== null && digestOf(proposal.edit, recording) === chosen}
            change={change}
            isBest={i === 0}
          />
        ))}
      </ol>
      {proposals.length > shown.length ? (
        <Button look="quiet" onClick={() => setAll(true)}>
          Show {proposals.length - shown.length} more
        </Button>
      ) : null}
    </>
  );
}

function OneProposal({
  proposal,
  chosen,
  change,
  isBest,
}: {
  proposal: Proposal;
  chosen: boolean;
  change: SongChange;
  isBest: boolean;
}) {
  const plan = usePlan();
  const beats = plan.grid?.beats ?? [];
  const length = clock(proposal.floorLength);
  const duration = plan.recording?.duration ?? 0;
  const lastSound = plan.heard?.lastSound ?? duration;
  const music = clock(musicEnd(proposal.edit, compileEdit(proposal.edit, { duration }), lastSound));
  const interval = median(beats.slice(1).map((t, i) => t - beats[i]!));
  return (
    <li className="grid gap-x-8 gap-y-2 border-b border-rule py-4 md:grid-cols-[7rem_1fr_auto]">
      <p>
        <span className="font-serif text-3xl">{length}</span>
        <span className="block text-sm text-soft">{kindWords[proposal.kind]}</span>
        {music === length ? null : <span className="block text-sm text-soft">music until {music}</span>}
      </p>
      <div className="min-w-0 space-y-1.5">
        <p className="font-serif text-lg leading-snug">{proposal.words}</p>
        {proposal.leftOut.length > 0 ? (
          <p className="text-sm text-soft">
            left out:{' '}
            {proposal.leftOut
              .map(
                ({ from, to, names }) =>
                  `${clock(to - from)}${names.length > 0 ? ` (${names.join(', ')})` : ''}`,
              )
              .join('; ')}
          </p>
        ) : null}
        {proposal.seam ? <SeamFacts seam={proposal.seam} interval={interval} /> : null}
      </div>
      <div className="flex flex-wrap items-start gap-2 md:justify-end">
        <HearEdit edit={proposal.edit} />
        {chosen ? (
          <p className="flex min-h-11 items-center font-semibold text-moss">chosen</p>
        ) : change.may ? (
          <Button
            look="main"
            data-does={isBest ? PROPOSALS : undefined}
            onClick={() => change.setEdit(proposal.edit)}
          >
            Choose <span className="sr-only">{proposal.words}</span>
          </Button>
        ) : null}
      </div>
    </li>
  );
}
