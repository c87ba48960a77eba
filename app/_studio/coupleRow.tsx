'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { Fragment, useState } from 'react';
import { dayWords } from '@/lib/core/areas/days.ts';
import { clock } from '@/lib/core/units.ts';
import type { BoardSummary } from '@/lib/protocol/api.ts';
import { StudioQuestions } from '../_home/studioQuestions.tsx';
import { ask } from '../_ui/api.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { DanceStrip } from '../_ui/danceStrip.tsx';
import { Names } from '../_ui/names.tsx';
import { Notice } from '../_ui/notice.tsx';
import { boardAddress, historyAddress } from '../_ui/roles.ts';
import { Sentence } from '../_ui/sentence.tsx';
import { farWords } from './dates.ts';

/** One couple: when, who, which song, and what is still missing. */
export function CoupleRow({ board }: { board: BoardSummary }) {
  const isNamed = board.one !== '' || board.other !== '';
  const unnamed = board.apart === null ? 'A couple without names' : 'A couple whose names cannot be read';
  const names = isNamed ? `${board.one} & ${board.other}` : unnamed;
  const { song, floorLength } = board;
  return (
    <li className="grid gap-x-8 gap-y-2 border-b border-rule py-4 md:grid-cols-[9rem_1fr_auto]">
      <p>
        {board.date ? (
          <>
            <span className="block font-semibold">{dayWords(board.date)}</span>
            <span className="text-soft">{farWords(board.today, board.date)}</span>
          </>
        ) : (
          <span className="text-soft">day not set</span>
        )}
      </p>
      <div className="min-w-0">
        <h3 className="text-2xl leading-tight break-words">
          <Link
            prefetch={false}
            href={boardAddress(board.id, 'sheet', 'instructor')}
            className="inline-flex min-h-11 max-w-full items-center md:min-h-0"
          >
            {/* One child, so that a line may break between the two names. */}
            <span className="min-w-0 wrap-anywhere">
              {isNamed ? <Names one={board.one} other={board.other} /> : unnamed}
            </span>
          </Link>
        </h3>
        <p className="break-words text-soft">
          {song.length === 0 && floorLength === null && board.apart === null ? 'no song yet' : null}
          {song.map((part, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a song may be called as its artist is
            <Fragment key={i}>
              {i > 0 ? ', ' : ''}
              <bdi className="sung text-lg text-ink">{part}</bdi>
            </Fragment>
          ))}
          {floorLength === null ? '' : `${song.length > 0 ? ', ' : ''}music as played ${clock(floorLength)}`}
          {board.venue ? (
            <>
              {' · '}
              <bdi>{board.venue}</bdi>
            </>
          ) : null}
        </p>
        {board.strip ? <DanceStrip strip={board.strip} size="small" className="mt-2 max-w-2xl" /> : null}
        {board.apart === null ? (
          <>
            <StudioQuestions board={board} />
            <Lacks board={board} />
          </>
        ) : (
          <p className="mt-2 max-w-prose border-l-2 border-wine pl-3 text-wine">
            {board.apart}{' '}
            <Link prefetch={false} href={historyAddress(board.id)}>
              To its history
            </Link>
          </p>
        )}
      </div>
      <Remove board={board} names={names} />
    </li>
  );
}

function Lacks({ board: { lacks, owed: stages, findings } }: { board: BoardSummary }) {
  const owed = findings.blocks + findings.warns;
  if (owed === 0 && stages.length === 0) return <p className="mt-2 text-moss">Everything is settled.</p>;
  const more = owed - lacks.length;
  return (
    <>
      <ul className="mt-2 max-w-prose space-y-1">
        {lacks.map((sentence, i) => (
          <li
            key={sentence}
            className={`border-l-2 pl-3 ${i < findings.blocks ? 'border-wine text-wine' : 'border-edge'}`}
          >
            <Sentence>{sentence}</Sentence>
          </li>
        ))}
      </ul>
      {more > 0 ? <p className="mt-1 pl-3.5 text-soft">and {more} more</p> : null}
      {stages.length > 0 ? <Owed owed={stages} /> : null}
    </>
  );
}

/** Who owes what that no sentence says, a line each. */
function Owed({ owed }: { owed: BoardSummary['owed'] }) {
  const people = [...new Set(owed.map(({ by }) => by))];
  return (
    <dl className="mt-2 max-w-prose">
      {people.map((by) => (
        <div key={by}>
          <dt className="inline text-soft">Owed by {by}: </dt>
          <dd className="inline">
            {owed
              .filter((each) => each.by === by)
              .map(({ what }) => what)
              .join('; ')}
          </dd>
        </div>
      ))}
    </dl>
  );
}

function Remove({ board, names }: { board: BoardSummary; names: string }) {
  const router = useRouter();
  const [asking, setAsking] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const remove = async () => {
    setAsking(false);
    const done = await ask(`/api/boards/${board.id}?as=instructor`, { method: 'DELETE' });
    if (!done.ok) return setProblem(done.sentence);
    router.refresh();
    // So does what this browser keeps of it; others drop theirs when they next come to it.
    const { takeLeftBehind } = await import('../_client/leftBehind.ts');
    await takeLeftBehind(board.id, []).catch(() => undefined);
  };
  return (
    <div className="md:text-right">
      <Button look="quiet" className="px-2!" aria-label={`Delete ${names}`} onClick={() => setAsking(true)}>
        Delete
      </Button>
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {asking ? (
        <Asking
          title={`Delete the board of ${names}?`}
          yes="Delete it for everybody"
          onYes={remove}
          onNo={() => setAsking(false)}
        >
          <p>Song, dance, lesson notes, remarks, the DJ’s answers and all links go with it.</p>
          <p>Nobody can bring it back. You can take a copy first: open the board, then Links.</p>
        </Asking>
      ) : null}
    </div>
  );
}
