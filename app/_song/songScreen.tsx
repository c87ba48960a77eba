'use client';

import { useState } from 'react';
import { isUnsure } from '@/lib/core/song/confirmed.ts';
import type { RecordTime } from '@/lib/core/units.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard, usePlan, useRoom } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { Drawer } from '../_ui/drawer.tsx';
import { Corrections, OneQuestion } from './corrections.tsx';
import { HeardFacts, MoreHeard } from './heardFacts.tsx';
import { MarkingMode } from './markingMode.tsx';
import { PresentEdit } from './presentEdit.tsx';
import { RecordingFacts } from './recordingFacts.tsx';
import { SectionList } from './sectionList.tsx';
import { Settling } from './settling.tsx';
import { useProposals, Wishes } from './shaping.tsx';
import { SongBar } from './songBar.tsx';
import { SongSoundRoom } from './songSound.tsx';
import { SongStrip } from './songStrip.tsx';
import { Drawers, Step } from './step.tsx';
import { TakeAlong } from './takeAlong.tsx';
import { TakeSongBox } from './takeSongBox.tsx';
import { useSongChange } from './useSongChange.tsx';
import { mark, page as words } from './words.ts';

/** The recording, what is heard in it, and how it is shaped into what will be played. */
export function SongScreen(_: { me: Me }) {
  const { board } = useBoard('board');
  if (board.plan.recording)
    return (
      <SongSoundRoom>
        <TheSong />
      </SongSoundRoom>
    );
  return (
    <BoardFrame>
      <NoSong />
    </BoardFrame>
  );
}

function NoSong() {
  const room = useRoom();
  return (
    <section aria-labelledby="no-song">
      <h2 id="no-song" className="text-3xl">
        {words.which}
      </h2>
      {room.mayWrite('plan') ? (
        <>
          <p className="mt-2 mb-5 max-w-2xl text-lg">{words.give}</p>
          <TakeSongBox replaces={false} />
        </>
      ) : (
        <p className="mt-2 text-lg">{words.none}</p>
      )}
    </section>
  );
}

/** One page from top to bottom: hear it, put it right, choose the length, take it along. */
function TheSong() {
  const plan = usePlan();
  const change = useSongChange();
  const [stopsAt, stopAt] = useState<RecordTime | null>(null);
  const inHand = { change, stopsAt, stopAt };
  const proposals = useProposals(change);
  // What is asked stays where it was asked, also once it is answered.
  const [wasUnsure] = useState(isUnsure(plan));
  const { may } = change;
  return (
    <BoardFrame wide bar={<SongBar {...inHand} />}>
      <Step id="hear" number={1} title={words.hear}>
        <p className="text-soft">{words.howTo(may && plan.grid !== null)}</p>
        <RecordingFacts />
      </Step>
      <SongStrip {...inHand} />
      <Step id="heard" number={2} title={words.heard}>
        <HeardFacts />
        {may && wasUnsure ? <OneQuestion /> : null}
        <Drawers>
          {may ? (
            <Drawer title={plan.grid ? words.counts : words.noBeat} open={plan.grid === null}>
              <Corrections asks={!wasUnsure} />
            </Drawer>
          ) : null}
          {plan.grid ? (
            <Drawer title={words.sections} open={plan.sections.length === 0}>
              <SectionList />
            </Drawer>
          ) : null}
          {may ? (
            <Drawer title={mark.title}>
              <MarkingMode />
            </Drawer>
          ) : null}
          <MoreHeard />
        </Drawers>
      </Step>
      <Step id="shape" number={3} title={words.shape} rows={proposals.rows}>
        <PresentEdit change={change} />
        <Wishes change={change} proposals={proposals} />
      </Step>
      <Step id="take" number={4} title={words.take}>
        <TakeAlong />
        <Settling />
      </Step>
    </BoardFrame>
  );
}
