import { useMemo, useState } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { isFigure } from '@/lib/core/dance/kinds.ts';
import { practiceLoad } from '@/lib/core/dance/practice.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { useDesk } from './desk.tsx';
import { type Offered, proposeAnew, proposeAround } from './proposal.ts';

/** A dance from the couple's moves, said in words before it is taken, and taken back in one step. */
export function ProposalPanel() {
  const { plan, score, change } = useDesk();
  const room = useRoom();
  const readiness = useBoard('board').board.lessons?.readiness;
  const [taken, setTaken] = useState<string | null>(null);
  const around = useMemo(() => proposeAround(plan, score, readiness ?? []), [plan, score, readiness]);
  const anew = useMemo(() => proposeAnew(plan, score, readiness ?? []), [plan, score, readiness]);
  const figures = plan.moves.filter(isFigure);
  const take = ({ changes }: Offered) =>
    change(changes, {
      way: 'suggestion',
      done: () => setTaken(danceOf(room.getState().board.plan)),
    });
  if (taken !== null && taken === danceOf(plan)) {
    return (
      <div className="space-y-3 pb-2">
        <Notice kind="settled">It stands on the sheet now. Move what you like differently.</Notice>
        <Button
          onClick={() => {
            room.undo();
            setTaken(null);
          }}
        >
          Take it back
        </Button>
      </div>
    );
  }
  if (figures.length === 0) {
    return (
      <p className="sung pb-2 text-xl">
        Nothing to propose yet: add the moves that the couple know, under “Moves”.
      </p>
    );
  }
  return (
    <div className="grid gap-x-10 gap-y-4 pb-2 lg:grid-cols-2">
      <Offer
        title={plan.placed.length > 0 ? 'Around what stands on the sheet' : 'A whole dance'}
        offered={around}
        none="Every section change that has room for a move has one."
        onTake={() => take(around)}
      />
      {plan.placed.length > 0 ? (
        <Offer
          title="A whole dance anew"
          offered={anew}
          none="The couple’s moves find no better place."
          warning="It takes away the moves that stand on the sheet now."
          onTake={() => take(anew)}
        />
      ) : null}
      {plan.lessonsLeft === null ? null : (
        <p className="text-soft lg:col-span-2">
          {
            practiceLoad(
              plan.moves.filter(({ id }) => plan.placed.some(({ move }) => move === id)),
              readiness ?? [],
              plan.lessonsLeft,
            ).words
          }
        </p>
      )}
    </div>
  );
}

function Offer({
  title,
  offered,
  none,
  warning,
  onTake,
}: {
  title: string;
  offered: Offered;
  none: string;
  warning?: string;
  onTake(): void;
}) {
  const empty = offered.changes.length === 0;
  return (
    <section className="space-y-2">
      <h3 className="text-xl">{title}</h3>
      {offered.words.length > 0 ? (
        <ul className="space-y-1">
          {offered.words.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      ) : null}
      {empty ? <p className="text-soft">{none}</p> : null}
      {warning && !empty ? <p className="text-soft">{warning} Undo brings them back.</p> : null}
      {empty ? null : (
        <Button look="main" onClick={onTake}>
          Dance it like this
        </Button>
      )}
    </section>
  );
}

/** What a proposal changes, as text: while it is the same, one undo takes exactly the proposal back. */
const danceOf = ({ placed, moves, cues, walkOn, ending }: Plan): string =>
  JSON.stringify([placed, moves, cues, walkOn, ending]);
