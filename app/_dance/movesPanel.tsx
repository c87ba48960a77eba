import { useState } from 'react';
import { isUnbegun, learned } from '@/lib/core/dance/kinds.ts';
import type { Move } from '@/lib/core/dance/move.ts';
import type { Me } from '../_client/boardState.ts';
import { Button } from '../_ui/button.tsx';
import { useDesk } from './desk.tsx';
import { nothing } from './hand.ts';
import { LibraryPanel } from './libraryPanel.tsx';
import { HowItGoes, howWords, lengthWords } from './moveFacts.tsx';
import { OwnMoveForm } from './ownMoveForm.tsx';

/** The couple's moves: to put on the sheet, to learn about, to add to. */
export function MovesPanel({ me }: { me: Me }) {
  const { plan, open } = useDesk();
  // Where there is no move yet the library is all there is to do here.
  const [isFirst] = useState(plan.moves.length === 0);
  const moves = learned(plan.moves);
  return (
    <div className="space-y-4">
      {moves.length === 0 ? (
        <p className="sung text-xl">
          No moves yet. Add the basic and the few that the couple know from the list below.
        </p>
      ) : (
        <ul className="grid gap-x-8 @2xl:grid-cols-2">
          {moves.map((move) => (
            <BoardMove key={move.id} move={move} />
          ))}
        </ul>
      )}
      {isUnbegun(plan) ? (
        <Button look="main" onClick={() => open('proposal')}>
          Propose a dance of these
        </Button>
      ) : null}
      <details open={isFirst}>
        <summary className="min-h-11 content-center font-semibold">Add from the move library</summary>
        <LibraryPanel me={me} />
      </details>
      <details>
        <summary className="min-h-11 content-center font-semibold">Add a move of your own</summary>
        <OwnMoveForm />
      </details>
    </div>
  );
}

function BoardMove({ move }: { move: Move }) {
  const { plan, hand, take, change } = useDesk();
  const used = plan.placed.filter((placed) => placed.move === move.id).length;
  const inEnding = plan.ending?.moves.includes(move.id) ?? false;
  const inHand = hand.kind === 'move' && hand.move === move.id;
  return (
    <li className="border-b border-rule py-1">
      <div className="flex items-center justify-between gap-3">
        <p className="min-w-0">
          <span className="font-semibold">{move.name}</span>{' '}
          <span className="text-soft">
            {move.basic ? 'the basic, ' : ''}
            {lengthWords(move)}
            {used > 0 ? `, on the sheet ${used === 1 ? 'once' : used === 2 ? 'twice' : `${used} times`}` : ''}
          </span>
        </p>
        {move.basic ? null : (
          <Button
            className="shrink-0"
            aria-pressed={inHand}
            onClick={() => {
              take(inHand ? nothing : { kind: 'move', move: move.id });
            }}
          >
            {inHand ? 'Put it back' : 'Take in hand'}
            <span className="sr-only">: {move.name}</span>
          </Button>
        )}
      </div>
      <HowItGoes move={move} summary={howWords(move)}>
        {used > 0 || inEnding ? (
          <p className="mt-2 text-soft">It is danced on the sheet, so it stays in the list.</p>
        ) : (
          <Button look="quiet" onClick={() => change([{ collection: 'moves', id: move.id, fields: null }])}>
            Take off the list
          </Button>
        )}
      </HowItGoes>
    </li>
  );
}
