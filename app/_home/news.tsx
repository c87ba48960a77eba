'use client';

import { useEffect, useState } from 'react';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { nowInstant } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useLasting } from '../_ui/useLasting.ts';
import { keepLastTime, type LastTime, newsSince, ownSince, readLastTime, seenNow } from './lastTime.ts';
import { news } from './words.ts';

/** Sentences that are shown; the rest stands on the sheet. */
const MOST = 6;

/** What others have changed since this device was last told, until somebody says that they have seen it. */
export function News({ me }: { me: Me }) {
  const { saving } = useBoard('saving');
  const [isHere, setHere] = useState(false);
  const isAlone = useLasting(saving === 'offline');
  // Until the server has sent all of the board, what is still on its way would be news tomorrow.
  if (!isHere && (saving !== 'offline' || isAlone)) setHere(true);
  return isHere ? <Told me={me} /> : null;
}

function Told({ me }: { me: Me }) {
  const { board } = useBoard('board');
  const [last, setLast] = useState<LastTime | null>(() => readLastTime(me));
  const told = last ? [...new Set(newsSince(last, board, ownSince(me)))] : [];
  const isFirst = last === null;
  const isQuiet = !isFirst && told.length === 0;
  // biome-ignore lint/correctness/useExhaustiveDependencies: told once, as the page opens; what comes while it is open is news
  useEffect(() => {
    if (isFirst || isQuiet) keepLastTime(me, seenNow(board, nowInstant()));
  }, []);
  if (told.length === 0 || last === null) return null;
  const seen = () => {
    const now = seenNow(board, nowInstant());
    keepLastTime(me, now);
    setLast(now);
  };
  return (
    <section aria-labelledby="news">
      <h3 id="news" className="text-2xl">
        {news.title}
      </h3>
      <p className="text-soft">{news.since(last.at)}</p>
      <ul className="mt-2 space-y-1 border-l-[3px] border-edge pl-3">
        {told.slice(0, MOST).map((sentence) => (
          <li key={sentence} className="wrap-anywhere">
            {sentence}
          </li>
        ))}
        {told.length > MOST ? <li className="text-soft">{news.more(told.length - MOST)}</li> : null}
      </ul>
      <Button className="mt-3" onClick={seen}>
        {news.seen}
      </Button>
    </section>
  );
}
