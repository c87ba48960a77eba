'use client';

import { useState } from 'react';
import type { Remarks } from '@/lib/core/areas/remarks.ts';
import type { Me } from '../_client/boardState.ts';
import { newId } from '../_client/newId.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { nowInstant } from '../_studio/dates.ts';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { Button } from '../_ui/button.tsx';
import { Choice } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { hasWords } from '../_ui/richView.tsx';
import { aboutWords } from './about.ts';
import { useMyName } from './myName.ts';
import { RemarkNote } from './remarkNote.tsx';
import { WhatIsLeft } from './whatIsLeft.tsx';

type About = Remarks['remarks'][number]['about'];

/** Notes among all: couple, instructor, DJ and planner. */
export function RemarksScreen({ me }: { me: Me }) {
  const { board } = useBoard('board');
  const room = useRoom();
  const [name] = useMyName();
  const [writing, setWriting] = useState<string | null>(null);
  const [only, setOnly] = useState<About | 'all'>('all');
  const [problem, setProblem] = useState<string | null>(null);
  // The one being written as it was last here: it may be taken back on another device meanwhile.
  const here = board.remarks?.remarks.find(({ id }) => id === writing) ?? null;
  const [last, setLast] = useState(here);
  if (here !== null && here !== last) setLast(here);
  const gone = here === null && last !== null && last.id === writing ? last : null;
  // Somebody else's that holds no word yet is still being written.
  const remarks = (board.remarks?.remarks ?? [])
    .filter((remark) => remark.id === writing || hasWords(remark.text))
    .filter((remark) => only === 'all' || remark.about === only || remark.id === writing)
    .sort((a, b) => b.at.localeCompare(a.at));
  const begin = () => {
    const id = newId();
    const about: About = only === 'all' ? '' : only;
    const fields = { writer: me.membership, name, role: me.role, at: nowInstant(), about };
    const made = room.write('remarks', [{ collection: 'remarks', id, fields }], id, {
      done: () => setWriting(id),
    });
    setProblem(made.ok ? null : made.problem.sentence);
  };
  const others = (board.remarks?.remarks ?? []).length > 0;
  return (
    <BoardFrame>
      <div className="max-w-3xl">
        <div className="flex flex-wrap items-end justify-between gap-4">
          <h2 className="text-3xl">Remarks</h2>
          <Button look="main" onClick={begin} disabled={here !== null || !room.mayWrite('remarks')}>
            Write a remark
          </Button>
        </div>
        <p className="mt-1 text-soft">Couple, instructor, DJ and planner read these.</p>
        {problem ? <Notice kind="wrong">{problem}</Notice> : null}
        {gone ? (
          <WhatIsLeft text={gone.text} onDone={() => setWriting(null)}>
            This remark was taken back just now.
          </WhatIsLeft>
        ) : null}
        {others ? (
          <div className="mt-4 max-w-56">
            <Choice
              label="Show"
              value={only}
              onChange={(event) => setOnly(event.target.value as About | 'all')}
            >
              <option value="all">all of them</option>
              {Object.entries(aboutWords).map(([about, words]) => (
                <option key={about} value={about}>
                  about {words}
                </option>
              ))}
            </Choice>
          </div>
        ) : null}
        {remarks.length === 0 ? (
          <p className="mt-8 max-w-prose text-lg">
            {only === 'all'
              ? 'Nobody has written anything yet. A question, a wish for the lights, a word of thanks: it fits here.'
              : 'Nothing about this yet.'}
          </p>
        ) : (
          <ol className="mt-5 border-t-2 border-ink">
            {remarks.map((remark) => (
              <RemarkNote
                key={remark.id}
                remark={remark}
                mine={remark.writer === me.membership}
                mayRemove={me.role === 'instructor'}
                writing={remark.id === writing}
                onWrite={(yes) => setWriting(yes ? remark.id : null)}
              />
            ))}
          </ol>
        )}
      </div>
    </BoardFrame>
  );
}
