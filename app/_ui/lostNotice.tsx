'use client';

import { type ReactNode, useState } from 'react';
import { allOf, takeInstead } from '@/lib/core/areas/lost.ts';
import type { showShape } from '@/lib/core/areas/show.ts';
import type { LostHere } from '../_client/losses.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { Button } from './button.tsx';
import { lostWords } from './lostWords.ts';

/** One value that lost to another: what stands, and one tap to take the other instead. */
export function LostNotice({
  lost,
  night,
  onAnswer,
}: {
  lost: LostHere;
  night: boolean;
  onAnswer: () => void;
}) {
  const { board, lost: all } = useBoard('board', 'lost');
  const room = useRoom();
  const [problem, setProblem] = useState('');
  const { said, take } = lostWords(lost, board);

  const change = () => {
    const made = makeChange(room, lost.area, allOf(lost, all), onAnswer);
    setProblem(made.ok ? '' : made.problem.sentence);
  };
  return (
    <div className="mx-auto mb-1 max-w-[84rem] items-center gap-x-6 border-l-[3px] border-edge py-1 pl-3 lg:flex">
      <div className="min-w-0 flex-1 wrap-anywhere">
        <p>
          <Isolated text={said} />
        </p>
        {problem ? (
          <p role="alert" className={night ? 'text-night-wine' : 'text-wine'}>
            {problem}
          </p>
        ) : null}
      </div>
      <p className="mt-1 flex flex-wrap gap-2 lg:mt-0 lg:shrink-0">
        <Button look={night ? 'night' : 'plain'} className="max-w-full wrap-anywhere" onClick={change}>
          <span>
            <Isolated text={take} />
          </span>
        </Button>
        <Button
          look={night ? 'night' : 'quiet'}
          onClick={() => {
            onAnswer();
            room.dismissLost(lost);
          }}
        >
          Leave it
        </Button>
      </p>
    </div>
  );
}

/** One step of undo; what was settled or agreed since is asked about, as with every change. */
const makeChange = (
  room: ReturnType<typeof useRoom>,
  area: LostHere['area'],
  lost: readonly LostHere[],
  done: () => void,
) =>
  area === 'plan'
    ? room.change(
        'plan',
        lost.map((one) => takeInstead(one)),
        { done },
      )
    : room.change(
        'show',
        lost.map((one) => takeInstead<typeof showShape>(one)),
        { done },
      );

/** What people wrote, each in the direction of its own alphabet. */
function Isolated({ text }: { text: string }): ReactNode {
  const [, before, quoted, after] = /^([^“]*)(“[^”]*”)(.*)$/s.exec(text) ?? [];
  if (!quoted) return text;
  return (
    <>
      {before}
      <bdi>{quoted}</bdi>
      <Isolated text={after!} />
    </>
  );
}
