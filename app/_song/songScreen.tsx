'use client';

import type { Me } from '../_client/boardState.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { Corrections } from './corrections.tsx';
import { HeardFacts } from './heardFacts.tsx';
import { MarkingMode } from './markingMode.tsx';
import { PresentEdit } from './presentEdit.tsx';
import { RecordingFacts } from './recordingFacts.tsx';
import { useRecordSound } from './recordSound.ts';
import { SectionList } from './sectionList.tsx';
import { Settling } from './settling.tsx';
import { Shaping } from './shaping.tsx';
import { SongStrip } from './songStrip.tsx';
import { TakeAlong } from './takeAlong.tsx';
import { TakeSongBox } from './takeSongBox.tsx';
import { useSongChange } from './useSongChange.tsx';

/** The recording, what is heard in it, and how it is shaped into what will be played. */
export function SongScreen(_: { me: Me }) {
  const { board } = useBoard('board');
  return <BoardFrame player>{board.plan.recording ? <TheSong /> : <NoSong />}</BoardFrame>;
}

function NoSong() {
  const room = useRoom();
  return (
    <section aria-labelledby="no-song">
      <h2 id="no-song" className="text-3xl">
        Which song is it?
      </h2>
      {room.mayWrite('plan') ? (
        <>
          <p className="mt-2 mb-5 max-w-2xl text-lg">
            Give the very recording that will be played. Beats, sections and words to listen for all hang on
            it.
          </p>
          <TakeSongBox replaces={false} />
        </>
      ) : (
        <p className="mt-2 text-lg">No recording has been chosen yet.</p>
      )}
    </section>
  );
}

function TheSong() {
  const sound = useRecordSound();
  const { may } = useSongChange();
  return (
    <div className="space-y-12">
      <SongStrip sound={sound} />
      <PresentEdit />
      <Shaping />
      <TakeAlong />
      <HeardFacts />
      <Corrections />
      {may ? <MarkingMode /> : null}
      <SectionList />
      <RecordingFacts />
      <Settling />
    </div>
  );
}
