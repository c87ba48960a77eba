import type { Move } from '@/lib/core/dance/move.ts';
import { CautionNote } from './cautionNote.tsx';

const LEVEL = { subdivision: 'counts', beat: 'counts', half: 'slow counts' } as const;

/** "6 counts, led 3 counts before" */
export function lengthWords({ counts, level, preparation, landsOn }: Move): string {
  const led = preparation > 0 ? `, led ${preparation} ${preparation === 1 ? 'count' : 'counts'} before` : '';
  const lands = landsOn === null ? '' : `, lands on ${landsOn}`;
  return `${counts} ${LEVEL[level]}${led}${lands}`;
}

/** All about a move, for whoever opens it. */
export function MoveFacts({ move }: { move: Move }) {
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
