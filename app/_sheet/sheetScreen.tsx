'use client';

import dynamic from 'next/dynamic';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { Me, SheetState } from '../_client/boardState.ts';
import { laterPart } from '../_client/laterParts.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { DeskRoom, useDesk } from '../_dance/desk.tsx';
import { Dock } from '../_dance/dock.tsx';
import { PlayerBar } from '../_practice/playerBar.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { clearOfTop } from '../_ui/clearOf.ts';
import { boardAddress } from '../_ui/roles.ts';
import { EmptySheet, Lacking } from './emptySheet.tsx';
import { goTo } from './goTo.ts';
import { Sheet } from './sheet.tsx';
import { WholeStrip } from './wholeStrip.tsx';
import { sheet as words } from './words.ts';

/** Comes after the sheet, as the panels do. */
const MarkedSheet = dynamic(
  laterPart(async () => (await import('./markedSheet.tsx')).MarkedSheet),
  { ssr: false },
);

/** The centre of the board: the song as danced, phrase by phrase. */
export function SheetScreen({ me }: { me: Me }) {
  const state = useBoard('board', 'checked', 'isChecked', 'people', 'today');
  const { score } = useBoard('score');
  const { board } = state;
  const mayWrite = useRoom().mayWrite('plan');
  const songPage = mayWrite ? boardAddress(me.board, 'song', me.role) : null;
  if (!score || score.counts.length === 0) {
    return (
      <BoardFrame wide>
        {board.plan.recording ? (
          <Lacking said={words.empty.noBeats} to={songPage} label={words.empty.toSong} />
        ) : (
          <EmptySheet />
        )}
      </BoardFrame>
    );
  }
  return (
    <BoardFrame bar={<PlayerBar />} wide>
      <DeskRoom score={score}>
        <h2 className="sr-only">{words.title}</h2>
        <OnDesk me={me} state={state} score={score} songPage={songPage} />
      </DeskRoom>
    </BoardFrame>
  );
}

/** The whole dance as a strip, and beside it what changes it; both stay in reach. */
const HEAD =
  'sticky top-0 z-10 -mx-4 -mt-3 border-b border-rule bg-paper px-4 pt-1.5 pb-1 md:-mx-10 md:px-10 xl:grid xl:items-center xl:gap-x-6 print:static';

/** The present dance; or, while somebody looks at a mark, the dance as it was then. */
function OnDesk({
  me,
  state,
  score,
  songPage,
}: {
  me: Me;
  state: SheetState;
  score: FloorScore;
  songPage: string | null;
}) {
  const { mayWrite, plan, looking } = useDesk();
  const mark = plan.marks.find(({ id }) => id === looking);
  if (mark) return <MarkedSheet mark={mark} />;
  return (
    <>
      <div
        ref={clearOfTop}
        data-covers=""
        className={`${HEAD} ${mayWrite ? 'xl:grid-cols-[minmax(0,1fr)_19rem]' : ''}`}
      >
        <WholeStrip plan={plan} score={score} onGo={(at) => goTo(at)} onEnter={(at) => goTo(at, true)} />
        {mayWrite ? <Dock me={me} /> : null}
      </div>
      {score.phrases.length === 0 ? (
        <Lacking said={words.empty.noSections} to={songPage} label={words.empty.markSections} />
      ) : null}
      <Sheet state={state} score={score} />
    </>
  );
}
