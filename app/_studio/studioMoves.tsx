'use client';

import { useState } from 'react';
import { standardMoves } from '@/lib/core/dance/library/standard.ts';
import type { Move } from '@/lib/core/dance/move.ts';
import type { StudioMoves } from '@/lib/protocol/api.ts';
import { newId } from '../_client/newId.ts';
import { ask } from '../_ui/api.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { Choice } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { MoveEditor } from './moveEditor.tsx';
import { newMove } from './moveForm.ts';
import { StudioHead } from './studioHead.tsx';

/** Which form is open: for a move there is, for a new one, or none. */
type Open = { id: string } | { from: Omit<Move, 'id'> } | null;

/** The studio's own moves; every board of the studio can take them beside the common figures. */
export function StudioMovesPage({ name, own }: { name: string; own: Move[] }) {
  const [moves, setMoves] = useState(own);
  const [open, setOpen] = useState<Open>(null);
  const [leaving, setLeaving] = useState<Move | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  /** To the list as it is now: another tab, or a colleague, may have changed it since this page was opened. */
  const store = async (change: (moves: Move[]) => Move[]): Promise<string | null> => {
    const now = await ask<StudioMoves>('/api/moves');
    if (!now.ok) return now.sentence;
    const next = change(now.value.moves);
    const stored = await ask('/api/moves', { method: 'PUT', json: { moves: next } });
    if (!stored.ok) return stored.sentence;
    setMoves(next);
    setOpen(null);
    return null;
  };
  const sorted = [...moves].sort((a, b) => a.name.localeCompare(b.name));
  return (
    <main className="sheet-page max-w-5xl!">
      <StudioHead name={name} />
      <p className="mt-6 max-w-prose">
        {moves.length === 0
          ? 'The common figures are on every board already. Moves that only you teach, or that you teach in your own way, go here.'
          : 'Your boards offer these beside the common figures. A board keeps a move as it was when it was chosen.'}
      </p>
      <div className="mt-5">
        {open && 'from' in open ? (
          <MoveEditor
            key={open.from.name}
            from={open.from}
            onKeep={(made) => store((all) => [...all, { ...made, id: newId() }])}
            onClose={() => setOpen(null)}
          />
        ) : (
          <Begin onBegin={(from) => setOpen({ from })} />
        )}
      </div>
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {sorted.length > 0 ? (
        <ul className="mt-8 border-t-2 border-ink">
          {sorted.map((move) => (
            <li key={move.id} className="border-b border-rule py-3">
              {open && 'id' in open && open.id === move.id ? (
                <MoveEditor
                  from={move}
                  onKeep={(made) =>
                    store((all) => [...all.filter(({ id }) => id !== move.id), { ...made, id: move.id }])
                  }
                  onClose={() => setOpen(null)}
                />
              ) : (
                <MoveRow
                  move={move}
                  onChange={() => setOpen({ id: move.id })}
                  onLeave={() => setLeaving(move)}
                />
              )}
            </li>
          ))}
        </ul>
      ) : null}
      {leaving ? (
        <Asking
          title={`Take “${leaving.name}” off the list?`}
          yes="Take it off"
          onNo={() => setLeaving(null)}
          onYes={async () => {
            setLeaving(null);
            setProblem(await store((all) => all.filter((move) => move.id !== leaving.id)));
          }}
        >
          <p>Boards that use it already keep it.</p>
        </Asking>
      ) : null}
    </main>
  );
}

function Begin({ onBegin }: { onBegin: (from: Omit<Move, 'id'>) => void }) {
  const [like, setLike] = useState('');
  const figure = standardMoves.find((move) => move.id === like);
  return (
    <div className="flex flex-wrap items-baseline gap-4">
      <div className="w-full max-w-xs">
        <Choice label="Start from" value={like} onChange={(event) => setLike(event.target.value)}>
          <option value="">an empty form</option>
          {standardMoves.map((move) => (
            <option key={move.id} value={move.id}>
              {move.name} ({move.dance === 'own' ? (move.metre === 3 ? 'in three' : 'in four') : move.dance})
            </option>
          ))}
        </Choice>
      </div>
      <Button look="main" onClick={() => onBegin(figure ?? newMove)}>
        New move
      </Button>
    </div>
  );
}

function MoveRow({ move, onChange, onLeave }: { move: Move; onChange: () => void; onLeave: () => void }) {
  const facts = [
    move.dance === 'own' ? 'any dance' : move.dance,
    move.metre === 0 ? 'any metre' : `in ${move.metre === 3 ? 'three' : 'four'}`,
    `${move.counts} counts`,
    move.preparation > 0 ? `led ${move.preparation} before` : '',
    move.landsOn === null ? '' : `lands on ${move.landsOn}`,
    move.cautions.length > 0 ? `caution: ${move.cautions.join(', ')}` : '',
  ];
  return (
    <div className="flex flex-wrap items-center justify-between gap-x-6">
      <div className="min-w-0">
        <h2 className="text-xl break-words">{move.name}</h2>
        <p className="text-soft">{facts.filter(Boolean).join(' · ')}</p>
      </div>
      <div className="flex">
        <Button look="quiet" className="px-2!" aria-label={`Change ${move.name}`} onClick={onChange}>
          Change
        </Button>
        <Button look="quiet" className="px-2!" aria-label={`Take ${move.name} off`} onClick={onLeave}>
          Take off
        </Button>
      </div>
    </div>
  );
}
