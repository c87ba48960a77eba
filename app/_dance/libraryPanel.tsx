import { useState } from 'react';
import { suitsMetre } from '@/lib/core/dance/counts.ts';
import { standardMoves } from '@/lib/core/dance/library/standard.ts';
import { type Dance, dance as danceNames, type Move } from '@/lib/core/dance/move.ts';
import type { Me } from '../_client/boardState.ts';
import { Button } from '../_ui/button.tsx';
import { Choice } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { useDesk } from './desk.tsx';
import { HowItGoes, howWords, lengthWords } from './moveFacts.tsx';
import { useStudioMoves } from './useStudioMoves.ts';

const danceWords = (name: Dance): string =>
  name === 'own' ? 'closing poses and our own' : name.charAt(0).toUpperCase() + name.slice(1);

/** Figures that suit the song's metre, by dance; choosing one copies it to the board. */
export function LibraryPanel({ me }: { me: Me }) {
  const { plan } = useDesk();
  const studio = useStudioMoves(me);
  const grid = plan.grid;
  const all = [...studio.moves, ...standardMoves].filter((move) => !grid || suitsMetre(move, grid));
  const dances = danceNames.options.filter((name) => all.some(({ dance }) => dance === name));
  const [wanted, setWanted] = useState<Dance | null>(null);
  const usual = plan.moves.find(({ basic }) => basic)?.dance ?? dances[0];
  const shown = wanted ?? usual;
  const onBoard = new Set(plan.moves.map(({ id }) => id));
  return (
    <div className="space-y-2 pb-2">
      <div className="max-w-xs">
        <Choice label="Figures of" value={shown} onChange={(event) => setWanted(event.target.value as Dance)}>
          {dances.map((name) => (
            <option key={name} value={name}>
              {danceWords(name)}
            </option>
          ))}
        </Choice>
      </div>
      {studio.problem ? <Notice>{studio.problem}</Notice> : null}
      <ul className="grid gap-x-8 @2xl:grid-cols-2">
        {all
          .filter(({ dance }) => dance === shown)
          .map((move) => (
            <LibraryMove key={move.id} move={move} known={onBoard.has(move.id)} />
          ))}
      </ul>
    </div>
  );
}

function LibraryMove({ move, known }: { move: Move; known: boolean }) {
  const { change } = useDesk();
  const { id, ...fields } = move;
  return (
    <li className="border-b border-rule py-1">
      <div className="flex items-center justify-between gap-3">
        <p className="min-w-0">
          <span className="font-semibold">{move.name}</span>{' '}
          <span className="text-soft">
            {move.basic ? 'a basic, ' : ''}
            {lengthWords(move)}
          </span>
        </p>
        {known ? (
          <span className="shrink-0 px-4 text-soft">on the board</span>
        ) : (
          <Button className="shrink-0" onClick={() => change([{ collection: 'moves', id, fields }])}>
            Add<span className="sr-only"> {move.name}</span>
          </Button>
        )}
      </div>
      <HowItGoes move={move} summary={howWords(move)} />
    </li>
  );
}
