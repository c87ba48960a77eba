'use client';

import { mayTake } from '@/lib/access/roles.ts';
import { type Paper, papers } from '@/lib/protocol/api.ts';
import type { Me } from '../_client/boardClient.ts';
import { buttonClass } from '../_ui/button.tsx';

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
      <ul className="mt-3 flex flex-wrap gap-3">
        {mine.map((paper) => (
          <li key={paper}>
            <a href={paperAddress(me, paper)} download className={buttonClass('plain')}>
              {paperWords[paper]}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
