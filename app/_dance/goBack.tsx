import { useState } from 'react';
import { answerState } from '@/lib/core/agreed/answerState.ts';
import { changePlan } from '@/lib/core/areas/change.ts';
import { changesTo } from '@/lib/core/areas/marks.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { planDifferences } from '@/lib/core/areas/planDifferences.ts';
import { useBoard } from '../_client/room.tsx';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { useDesk } from './desk.tsx';
import { Differences } from './differences.tsx';

/** Goes back to a mark as one new change, after saying what that changes. */
export function GoBack({
  mark,
  then,
  look = 'quiet',
}: {
  mark: Plan['marks'][number];
  then: Plan;
  look?: 'quiet' | 'main';
}) {
  const { plan, change, lookAt } = useDesk();
  const [asking, setAsking] = useState(false);
  const changes = changesTo(plan, then);
  if (changes.length === 0) return null;
  return (
    <>
      <Button look={look} className={look === 'quiet' ? 'px-2!' : ''} onClick={() => setAsking(true)}>
        Go back to it
      </Button>
      {asking ? (
        <Asking
          title={`Go back to “${mark.name}”?`}
          yes="Go back"
          no="Stay as it is"
          onNo={() => setAsking(false)}
          onYes={() => {
            setAsking(false);
            if (change(changes)) lookAt(null);
          }}
        >
          <Differences words={planDifferences(plan, changePlan(plan, changes))} />
          <Cautions changesEdit={changes.some((each) => 'register' in each && each.register === 'edit')} />
          <p>It is one change, for all of you, and you can undo it.</p>
        </Asking>
      ) : null}
    </>
  );
}

function Cautions({ changesEdit }: { changesEdit: boolean }) {
  const { board } = useBoard();
  const { kind } = answerState(board);
  if (board.plan.settled !== null)
    return <p>Song and edit are settled and stay: only the dance goes back.</p>;
  if (!changesEdit || (kind !== 'yes' && kind !== 'accepted')) return null;
  return (
    <p className="text-wine">The DJ has said yes to the present edit, and will have to be asked again.</p>
  );
}
