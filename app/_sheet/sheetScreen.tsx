'use client';

import dynamic from 'next/dynamic';
import Link from 'next/link';
import { useEffect } from 'react';
import type { FloorScore } from '@/lib/core/edit/score.ts';
import type { Me, SheetState } from '../_client/boardState.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { DeskRoom, useDesk } from '../_dance/desk.tsx';
import { DeskStrip } from '../_dance/deskStrip.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { buttonClass } from '../_ui/button.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { whenIdle } from '../_ui/whenIdle.ts';
import { goTo } from './goTo.ts';
import { Sheet } from './sheet.tsx';
import { WholeStrip } from './wholeStrip.tsx';

/** Comes after the sheet, as the panels do. */
const loadMarked = async () => (await import('./markedSheet.tsx')).MarkedSheet;
const MarkedSheet = dynamic(loadMarked, { ssr: false });

/** The centre of the board: the song as danced, phrase by phrase. */
export function SheetScreen({ me }: { me: Me }) {
  const state = useBoard('board', 'checked', 'isChecked', 'people', 'today');
  const { score } = useBoard('score');
  const { board } = state;
  const mayWrite = useRoom().mayWrite('plan');
  const songPage = boardAddress(me.board, 'song', me.role);
  if (!score || score.counts.length === 0) {
    const words = board.plan.recording
      ? 'No beats are known in this song yet. Listen to it on the song page, or tap along there.'
      : `There is no song on this board yet. It begins with a recording${mayWrite ? '' : ', which the couple and their instructor choose'}.`;
    return (
      <BoardFrame>
        <Empty words={words} to={mayWrite ? songPage : null} label="Go to the song" />
      </BoardFrame>
    );
  }
  return (
    <BoardFrame player>
      <DeskRoom score={score}>
        <h2 className="sr-only">The phrase sheet</h2>
        <OnDesk me={me} state={state} score={score} songPage={songPage} />
      </DeskRoom>
    </BoardFrame>
  );
}

/** The present dance with its strip; or, while somebody looks at a mark, the dance as it was then. */
function OnDesk({
  me,
  state,
  score,
  songPage,
}: {
  me: Me;
  state: SheetState;
  score: FloorScore;
  songPage: string;
}) {
  const { mayWrite, plan, looking } = useDesk();
  useEffect(() => whenIdle(() => void loadMarked().catch(() => undefined)), []);
  const mark = plan.marks.find(({ id }) => id === looking);
  if (mark) return <MarkedSheet mark={mark} />;
  return (
    <>
      <WholeStrip plan={plan} score={score} onGo={(at) => goTo(at)} onEnter={(at) => goTo(at, true)} />
      {mayWrite ? <DeskStrip me={me} /> : null}
      {score.phrases.length === 0 ? (
        <Empty
          words="The counts are known, the sections are not: say on the song page where verse and chorus begin, and each phrase becomes a row."
          to={mayWrite ? songPage : null}
          label="Mark the sections"
        />
      ) : null}
      <Sheet state={state} score={score} />
    </>
  );
}

function Empty({ words, to, label }: { words: string; to: string | null; label: string }) {
  return (
    <div className="max-w-2xl py-10">
      <p className="sung mb-4 text-2xl leading-snug">{words}</p>
      {to ? (
        <Link href={to} className={buttonClass('main')}>
          {label}
        </Link>
      ) : null}
    </div>
  );
}
