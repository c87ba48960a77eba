'use client';

import { type ReactNode, useState } from 'react';
import { standingYes } from '@/lib/core/agreed/answerState.ts';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import { digestOf } from '@/lib/core/edit/digest.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import type { Result } from '@/lib/core/result.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { AgreedAsking } from '../_ui/agreedAsking.tsx';
import { Notice } from '../_ui/notice.tsx';

export interface SongChange {
  /** Song and edit may be changed by this person now. */
  may: boolean;
  /** One step of undo; a refusal is shown by `words`. */
  apply(changes: PlanChange[]): void;
  /** The same for the edit: after a DJ's yes it asks first. */
  setEdit(next: Result<Edit> | Edit): void;
  /** What to show near what was changed: a refusal, or the question. */
  words: ReactNode;
}

export function useSongChange(): SongChange {
  const { board } = useBoard();
  const room = useRoom();
  const [problem, setProblem] = useState<string | null>(null);
  const [asked, setAsked] = useState<Edit | null>(null);
  const { plan } = board;
  const may = room.mayWrite('plan') && plan.settled === null;

  const apply = (changes: PlanChange[]) => {
    if (changes.length === 0) return;
    const done = room.change('plan', changes);
    setProblem(done.ok ? null : done.problem.sentence);
  };
  const write = (edit: Edit) => apply([{ register: 'edit', value: edit }]);
  const yes = standingYes(board);
  const setEdit = (next: Result<Edit> | Edit) => {
    if ('ok' in next && !next.ok) return setProblem(next.problem.sentence);
    const edit = 'ok' in next ? next.value : next;
    const { recording } = plan;
    if (!recording || (plan.edit && digestOf(plan.edit, recording) === digestOf(edit, recording)))
      return setProblem(null);
    if (yes) setAsked(edit);
    else write(edit);
  };
  const words = (
    <>
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {asked && yes ? (
        <AgreedAsking
          by={yes.by}
          onYes={() => {
            write(asked);
            setAsked(null);
          }}
          onNo={() => setAsked(null)}
        >
          {yes.plays === 'finished file'
            ? 'The DJ plays the finished file and will need the new one, and to be asked again.'
            : 'The DJ plays their own copy: they need to know the new times, and to be asked again.'}
        </AgreedAsking>
      ) : null}
    </>
  );
  return { may, apply, setEdit, words };
}
