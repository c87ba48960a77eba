import { type ReactNode, useState } from 'react';
import type { Move } from '@/lib/core/dance/move.ts';
import { CautionNote } from './cautionNote.tsx';
import { FootDiagram } from './footDiagram.tsx';

const LEVEL = { subdivision: 'counts', beat: 'counts', half: 'slow counts' } as const;

/** "6 counts, led 3 counts before" */
export function lengthWords({ counts, level, preparation, landsOn }: Move): string {
  const led = preparation > 0 ? `, led ${preparation} ${preparation === 1 ? 'count' : 'counts'} before` : '';
  const lands = landsOn === null ? '' : `, lands on ${landsOn}`;
  return `${counts} ${LEVEL[level]}${led}${lands}`;
}

/** All about a move, for whoever opens it; its feet are drawn only then, since a library has many. */
export function HowItGoes({
  move,
  summary = 'how it goes',
  open = false,
  children,
}: {
  move: Move;
  summary?: string;
  open?: boolean;
  children?: ReactNode;
}) {
  const [isDrawn, draw] = useState(open);
  return (
    <details
      open={open}
      onToggle={({ currentTarget, target }) => {
        if (target === currentTarget && currentTarget.open) draw(true);
      }}
    >
      <summary className="min-h-11 content-center text-soft">{summary}</summary>
      <MoveFacts move={move} />
      {isDrawn ? <FootDiagram move={move} /> : null}
      {children}
    </details>
  );
}

/** What to call that where there is something to mind. */
export const howWords = ({ cautions }: Move): string =>
  cautions.length > 0 ? 'how it goes, and what to mind' : 'how it goes';

function MoveFacts({ move }: { move: Move }) {
  const hold =
    move.holdBefore === move.holdAfter
      ? `${move.holdBefore} throughout`
      : `${move.holdBefore}, then ${move.holdAfter}`;
  const facts: [string, string][] = [
    ['rhythm', move.rhythm],
    ['lead', move.lead],
    ['follow', move.follow],
    ['dance hold', hold],
    ['room', move.room > 0 ? `${move.room} m across${move.travels ? ', it travels' : ''}` : ''],
    ['length from', move.source],
  ];
  return (
    <div className="space-y-2">
      <dl className="grid grid-cols-[6rem_minmax(0,1fr)] gap-x-3 gap-y-0.5">
        {facts
          .filter(([, words]) => words)
          .map(([name, words]) => (
            <div key={name} className="contents">
              <dt className="text-soft">{name}</dt>
              <dd>{words}</dd>
            </div>
          ))}
      </dl>
      <CautionNote move={move} />
    </div>
  );
}
