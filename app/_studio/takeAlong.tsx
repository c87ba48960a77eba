'use client';

import { mayTake } from '@/lib/access/roles.ts';
import { lackOf, lostLetters } from '@/lib/export/needs.ts';
import { type Paper, papers } from '@/lib/protocol/api.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { buttonClass } from '../_ui/button.tsx';
import { historyAddress } from '../_ui/roles.ts';

const paperWords: Record<Paper, string> = {
  'couple.pdf': 'The couple’s sheet (PDF)',
  'dj.pdf': 'The DJ’s sheet (PDF)',
  'planner.pdf': 'Run-of-show entry (PDF)',
  'planner.ics': 'For a calendar (ICS)',
  'planner.csv': 'For a spreadsheet (CSV)',
  'moves.vtt': 'Words and moves as captions (VTT)',
  'board.json': 'A copy of the whole board (JSON)',
};

export const paperAddress = (me: Me, paper: Paper): string =>
  `/api/boards/${me.board}/papers/${paper}?as=${me.role}`;

/** Everything of this board that this person may take along. */
export function TakeAlong({ me }: { me: Me }) {
  const mine = papers.filter((paper) => mayTake(me.role, paper));
  return (
    <section aria-labelledby="take">
      <h3 id="take" className="text-2xl">
        Take along
      </h3>
      <Papers me={me} papers={mine.map((paper) => ({ paper, words: paperWords[paper] }))} />
      {me.role === 'instructor' ? (
        <>
          <h3 className="mt-10 text-2xl">History</h3>
          <p className="mt-1 max-w-prose">
            <a href={historyAddress(me.board)} className="inline-flex min-h-11 items-center">
              What was written on this board, and ways back
            </a>
          </p>
        </>
      ) : null}
    </section>
  );
}

/** Papers to take; in place of one that cannot be made yet, what it waits for. */
export function Papers({ me, papers: all }: { me: Me; papers: { paper: Paper; words: string }[] }) {
  const { board } = useBoard('board');
  const told = all.map((each) => ({ ...each, lack: lackOf(each.paper, board) }));
  const ready = told.filter(({ lack }) => lack === null);
  const lost = ready.some(({ paper }) => paper.endsWith('.pdf')) ? lostLetters(board) : [];
  return (
    <>
      {ready.length > 0 ? (
        <ul className="mt-3 flex flex-wrap gap-3">
          {ready.map(({ paper, words }) => (
            <li key={paper}>
              <a href={paperAddress(me, paper)} download className={buttonClass('plain')}>
                {words}
              </a>
            </li>
          ))}
        </ul>
      ) : null}
      {lost.length > 0 ? (
        <p className="mt-2 border-l-[3px] border-wine pl-3 wrap-anywhere text-wine">
          A PDF cannot print {lost.map((letter) => `“${letter}”`).join(', ')}: “_” stands there instead. This
          page can: print it from your browser.
        </p>
      ) : null}
      {told.map(({ paper, lack }) =>
        lack === null ? null : (
          <p key={paper} className="mt-2 text-soft">
            {lack}
          </p>
        ),
      )}
    </>
  );
}
