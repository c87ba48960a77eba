'use client';

import { useState } from 'react';
import { compileEdit, musicEnd } from '@/lib/core/edit/compile.ts';
import { digestOf } from '@/lib/core/edit/digest.ts';
import type { Proposal } from '@/lib/core/edit/propose.ts';
import { clock } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { usualBeat } from './handEdit.ts';
import { PressedStrip } from './pressedStrip.tsx';
import { SeamFacts } from './seamFacts.tsx';
import { Row } from './step.tsx';
import type { SongChange } from './useSongChange.tsx';
import { length as words } from './words.ts';

/** The place of the list; one tap there chooses the best. */
export const PROPOSALS = 'proposals';

/** So many at first. */
const FIRST = 5;

/** Ranked edits, each a strip to the scale of the song's own, pressed to hear its join before it is chosen. */
export function Proposals({ proposals, change }: { proposals: Proposal[]; change: SongChange }) {
  const plan = usePlan();
  const [all, setAll] = useState(false);
  if (proposals.length === 0)
    return (
      <Row side={null}>
        <p className="mt-3">{words.nothing}</p>
      </Row>
    );
  const { recording, edit } = plan;
  const chosen = recording && edit ? digestOf(edit, recording) : null;
  const shown = all ? proposals : proposals.slice(0, FIRST);
  return (
    <>
      <ol id={PROPOSALS} className="mt-3" aria-label={words.proposed}>
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
        <Row side={null}>
          <Button look="quiet" className="-ml-4" onClick={() => setAll(true)}>
            {words.more(proposals.length - shown.length)}
          </Button>
        </Row>
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
  const length = clock(proposal.floorLength);
  const duration = plan.recording?.duration ?? 0;
  const lastSound = plan.heard?.lastSound ?? duration;
  const music = clock(musicEnd(proposal.edit, compileEdit(proposal.edit, { duration }), lastSound));
  const kind = words.kinds[proposal.kind];
  const leftOut = proposal.leftOut.map(
    ({ from, to, names }) => `${clock(to - from)}${names.length > 0 ? ` (${names.join(', ')})` : ''}`,
  );
  return (
    <li className="border-t border-rule py-3">
      <Row
        side={
          <p className="flex flex-wrap items-baseline gap-x-2 md:block">
            <span className="font-serif text-2xl leading-tight">{length}</span>
            <span className="text-sm text-soft md:block">{kind}</span>
            {music === length ? null : (
              <span className="text-sm text-soft md:block">{words.musicUntil(music)}</span>
            )}
          </p>
        }
      >
        <PressedStrip edit={proposal.edit} name={`${length}, ${kind}`} />
        <div className="mt-1.5 flex flex-wrap items-start justify-between gap-x-6 gap-y-1">
          <div className="min-w-0 flex-[1_1_20rem] space-y-1">
            <p className="font-serif leading-snug">{proposal.words}</p>
            {leftOut.length > 0 ? (
              <p className="text-sm text-soft">{words.leftOut(leftOut.join('; '))}</p>
            ) : null}
            {proposal.seam ? <SeamFacts seam={proposal.seam} interval={usualBeat(plan.grid)} /> : null}
          </div>
          {chosen ? (
            <p className="flex min-h-11 items-center font-semibold text-moss">{words.chosen}</p>
          ) : change.may ? (
            <Button
              look="main"
              data-does={isBest ? PROPOSALS : undefined}
              onClick={() => change.setEdit(proposal.edit)}
            >
              {words.choose} <span className="sr-only">{proposal.words}</span>
            </Button>
          ) : null}
        </div>
      </Row>
    </li>
  );
}
