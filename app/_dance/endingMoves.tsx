import { useId } from 'react';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import { choosable } from '@/lib/core/dance/kinds.ts';
import { poses } from '@/lib/core/dance/library/poses.ts';
import type { Ending, Move } from '@/lib/core/dance/move.ts';
import { Button } from '../_ui/button.tsx';
import { Choice, labelLook } from '../_ui/field.tsx';
import { deskPlace } from '../_ui/stageWays.ts';
import { useDesk } from './desk.tsx';

/** Most moves of an ending, as the plan allows. */
const MOST = 6;

interface Props {
  ending: Ending;
  onPut(ending: Ending, more?: PlanChange[]): void;
}

/** The ending's moves in order; the last is the closing pose. A pose of the library comes onto the board with it. */
export function EndingMoves({ ending, onPut }: Props) {
  const { plan } = useDesk();
  const led = useId();
  const own = choosable(plan.moves, plan.grid);
  const known = new Set(plan.moves.map(({ id }) => id));
  const offered = choosable(poses, plan.grid).filter(({ id }) => !known.has(id));
  const before = ending.moves.slice(0, -1);
  const pose = ending.moves.at(-1) ?? '';
  const nameOf = (id: string) =>
    plan.moves.find((move) => move.id === id)?.name ?? 'a move that was taken off the list';

  const choosePose = (id: string) => {
    const added = offered.find((one) => one.id === id);
    const moves = id ? [...before, id] : [];
    if (!added) return onPut({ ...ending, moves });
    const { id: _, ...fields } = added;
    onPut({ ...ending, moves }, [{ collection: 'moves', id, fields }]);
  };
  return (
    <div className="grid items-baseline gap-3 @md:grid-cols-2 @4xl:grid-cols-4">
      <Choice
        label="Closing pose"
        data-does={deskPlace('ending')}
        value={pose}
        onChange={(event) => choosePose(event.target.value)}
      >
        <option value="">choose one</option>
        {own.filter(({ landsOn }) => landsOn !== null).map(option)}
        {offered.length > 0 ? <optgroup label="from the library">{offered.map(option)}</optgroup> : null}
        <optgroup label="other moves">{own.filter(({ landsOn }) => landsOn === null).map(option)}</optgroup>
      </Choice>
      {before.length > 0 ? (
        <div>
          <p id={led} className={labelLook}>
            Led into it by
          </p>
          <ol aria-labelledby={led} className="flex flex-wrap gap-2">
            {before.map((id, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: the same move may come twice; its place tells them apart
              <li key={`${id}-${i}`}>
                <Button
                  onClick={() => onPut({ ...ending, moves: ending.moves.filter((_, k) => k !== i) })}
                  aria-label={`${nameOf(id)}: leave it out`}
                >
                  {nameOf(id)} <span aria-hidden="true">×</span>
                </Button>
              </li>
            ))}
          </ol>
        </div>
      ) : null}
      {pose && ending.moves.length < MOST ? (
        <Choice
          label={before.length > 0 ? 'And before that' : 'Led into it by'}
          value=""
          onChange={(event) => {
            if (event.target.value) onPut({ ...ending, moves: [event.target.value, ...ending.moves] });
          }}
        >
          <option value="">{before.length > 0 ? 'nothing more' : 'nothing else'}</option>
          {own.filter(({ landsOn }) => landsOn === null).map(option)}
        </Choice>
      ) : null}
    </div>
  );
}

const option = ({ id, name }: Move) => (
  <option key={id} value={id}>
    {name}
  </option>
);
