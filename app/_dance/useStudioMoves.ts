import { useEffect, useState } from 'react';
import type { Move } from '@/lib/core/dance/move.ts';
import type { StudioMoves } from '@/lib/protocol/api.ts';
import type { Me } from '../_client/boardState.ts';
import { ask } from '../_ui/api.ts';

/** The studio's own moves, for an instructor who has signed in (a link alone has no name); `problem` says why there are none. */
export function useStudioMoves(me: Me): { moves: Move[]; problem: string } {
  const [moves, setMoves] = useState<Move[]>([]);
  const [problem, setProblem] = useState('');
  useEffect(() => {
    if (me.role !== 'instructor' || me.name === '') return;
    let gone = false;
    void ask<StudioMoves>(`/api/moves?as=${me.role}`).then((answer) => {
      if (gone) return;
      if (answer.ok) setMoves(answer.value.moves);
      else setProblem(answer.sentence);
    });
    return () => {
      gone = true;
    };
  }, [me]);
  return { moves, problem };
}
