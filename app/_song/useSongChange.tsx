'use client';

import { type ReactNode, useState } from 'react';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import { digestOf } from '@/lib/core/edit/digest.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import type { Result } from '@/lib/core/result.ts';
import { usePlan, useRoom } from '../_client/room.tsx';
import { Notice } from '../_ui/notice.tsx';

export interface SongChange {
  /** Song and edit may be changed by this person now. */
  may: boolean;
  /** One step of undo; a refusal is shown by `words`, and gives false. */
  apply(changes: PlanChange[]): boolean;
  /** The same for the edit. */
  setEdit(next: Result<Edit> | Edit): void;
  /** What to show near what was changed: a refusal. */
  words: ReactNode;
}

export function useSongChange(): SongChange {
  const plan = usePlan();
  const room = useRoom();
  const [problem, setProblem] = useState<string | null>(null);
  const may = room.mayWrite('plan') && plan.settled === null;

  const apply = (changes: PlanChange[]) => {
    if (changes.length === 0) return true;
    const done = room.change('plan', changes);
    setProblem(done.ok ? null : done.problem.sentence);
    return done.ok;
  };
  const setEdit = (next: Result<Edit> | Edit) => {
    if ('ok' in next && !next.ok) return setProblem(next.problem.sentence);
    const edit = 'ok' in next ? next.value : next;
    const { recording } = plan;
    if (!recording || (plan.edit && digestOf(plan.edit, recording) === digestOf(edit, recording)))
      return setProblem(null);
    apply([{ register: 'edit', value: edit }]);
  };
  return { may, apply, setEdit, words: problem ? <Notice kind="wrong">{problem}</Notice> : null };
}
