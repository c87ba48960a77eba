'use client';

import { useCallback, useEffect, useRef, useState } from 'react';
import type { AreaName } from '@/lib/core/areas/board.ts';
import type { BoardHistory } from '@/lib/protocol/api.ts';
import { instantDay } from '../_studio/dates.ts';
import { ask } from '../_ui/api.ts';
import { Button } from '../_ui/button.tsx';
import { Choice } from '../_ui/field.tsx';
import { Names } from '../_ui/names.tsx';
import { Notice } from '../_ui/notice.tsx';
import { areaWords, boardAddress } from '../_ui/roles.ts';
import { HourRow } from './hourRow.tsx';
import { TakeReadable } from './takeReadable.tsx';
import type { Hour } from './words.ts';

/** What came of the last thing that was asked. */
export interface Said {
  kind: 'settled' | 'wrong';
  sentences: string[];
}

/** What was written on a board and by whom, hour by hour, and the ways back. Stands without the board being opened. */
export function HistoryScreen({ board }: { board: string }) {
  const [history, setHistory] = useState<BoardHistory | null>(null);
  const [said, setSaid] = useState<Said | null>(null);
  const [unread, setUnread] = useState<string | null>(null);
  const [only, setOnly] = useState<AreaName | 'all'>('all');
  const top = useRef<HTMLDivElement>(null);
  const read = useCallback(async () => {
    const got = await ask<BoardHistory>(`/api/boards/${board}/history?as=instructor`);
    setUnread(got.ok ? null : got.sentence);
    if (got.ok) setHistory(got.value);
  }, [board]);
  useEffect(() => void read(), [read]);
  const onSaid = async (news: Said) => {
    setSaid(news);
    await read();
    // The row whose button was pressed may have changed; what came of it stands at the top.
    top.current?.focus();
  };
  return (
    <main className="sheet-page max-w-4xl!">
      <header className="border-b border-rule pb-2">
        <p className="small-caps text-soft">Larkstep</p>
        <h1 className="mt-1 text-4xl leading-tight">History</h1>
        {history?.one ? (
          <p className="sung text-xl text-soft wrap-anywhere">
            of the board of <Names one={history.one} other={history.other} />
          </p>
        ) : null}
        <nav aria-label="Ways back" className="-mx-2 mt-1 flex flex-wrap">
          {[
            { href: boardAddress(board, 'sheet', 'instructor'), words: 'To the board' },
            { href: '/', words: 'To the studio' },
          ].map(({ href, words }) => (
            <a key={href} href={href} className="flex min-h-11 items-center px-2">
              {words}
            </a>
          ))}
        </nav>
      </header>
      <div ref={top} tabIndex={-1} className="mt-6 space-y-3 outline-none">
        {said?.sentences.map((sentence) => (
          <Notice key={sentence} kind={said.kind}>
            {sentence}
          </Notice>
        ))}
        {unread ? (
          <>
            <Notice kind="wrong">{unread}</Notice>
            <Button onClick={() => void read()}>Look again</Button>
          </>
        ) : null}
      </div>
      {history === null ? (
        unread ? null : (
          <p role="status" className="mt-6 text-soft">
            Looking…
          </p>
        )
      ) : (
        <>
          <Apart history={history} onShow={setOnly} />
          <p className="mt-6 max-w-prose">
            What was written here in the last 30 days, hour by hour. Each part of the board can be opened as
            it was; what stood meanwhile stays in this list.
          </p>
          <TakeReadable board={board} onSaid={(news) => void onSaid(news)} />
          <Hours board={board} history={history} only={only} onOnly={setOnly} onSaid={onSaid} />
        </>
      )}
    </main>
  );
}

/** What is damaged, and what helps. */
function Apart({
  history: { apart, hours },
  onShow,
}: {
  history: BoardHistory;
  onShow: (area: AreaName) => void;
}) {
  if (apart.length === 0) return null;
  return (
    <section aria-label="Damaged" className="mt-6 border-l-[3px] border-wine pl-5">
      <h2 className="text-2xl">Damaged and set apart</h2>
      <ul className="mt-2 space-y-2">
        {apart.map((area) => (
          <li key={area} className="flex flex-wrap items-center gap-x-4 gap-y-1">
            <span className="text-wine">{areaWords[area]}</span>
            {hours.some((hour) => hour.area === area) ? (
              <Button onClick={() => onShow(area)}>Show its hours</Button>
            ) : (
              <span>
                No earlier hour of it is kept. Take along what can be read, and bring that file as a new
                board.
              </span>
            )}
          </li>
        ))}
      </ul>
      <p className="mt-2 max-w-prose text-soft">
        Nobody can open it until it is put right; the other parts of this board, and all other boards, are as
        they were. Open it as of the last hour in which it was whole.
      </p>
    </section>
  );
}

function Hours({
  board,
  history: { hours, links, apart },
  only,
  onOnly,
  onSaid,
}: {
  board: string;
  history: BoardHistory;
  only: AreaName | 'all';
  onOnly: (only: AreaName | 'all') => void;
  onSaid: (said: Said) => Promise<void>;
}) {
  if (hours.length === 0) return <p className="mt-8 text-lg">Nothing was written here in these 30 days.</p>;
  const shown = hours.filter(({ area }) => only === 'all' || area === only);
  const days = [...new Set(shown.map(({ at }) => instantDay(at)))];
  // As of its latest hour a part is what it is now, unless it is damaged.
  const isNow = (hour: Hour) =>
    !apart.includes(hour.area) && hours.find(({ area }) => area === hour.area) === hour;
  return (
    <section aria-label="Hours" className="mt-8">
      <div className="max-w-56">
        <Choice
          label="Show"
          value={only}
          onChange={(event) => onOnly(event.target.value as AreaName | 'all')}
        >
          <option value="all">all parts</option>
          {Object.entries(areaWords).map(([area, words]) => (
            <option key={area} value={area}>
              {words}
            </option>
          ))}
        </Choice>
      </div>
      {shown.length === 0 ? <p className="mt-6">Nothing was written in this part.</p> : null}
      {days.map((day) => (
        <section key={day} aria-label={day} className="mt-6">
          <h2 className="text-2xl">{day}</h2>
          <ol className="mt-2 border-t-2 border-ink">
            {shown
              .filter(({ at }) => instantDay(at) === day)
              .map((hour) => (
                <HourRow
                  key={`${hour.at} ${hour.area} ${hour.by.link}`}
                  board={board}
                  hour={hour}
                  links={links}
                  later={hours.slice(0, hours.indexOf(hour)).filter(({ area }) => area === hour.area)}
                  isNow={isNow(hour)}
                  onSaid={onSaid}
                />
              ))}
          </ol>
        </section>
      ))}
    </section>
  );
}
