'use client';

import { useState } from 'react';
import type { BoardSummary } from '@/lib/protocol/api.ts';
import { PAGE } from '@/lib/protocol/listPage.ts';
import { Button } from '../_ui/button.tsx';
import { BringBoard } from './bringBoard.tsx';
import { byDate } from './byDate.ts';
import { CoupleRow } from './coupleRow.tsx';
import { FindCouple } from './findCouple.tsx';
import type { ListPage } from './listPage.ts';
import { ListPages } from './listPages.tsx';
import { NewBoard } from './newBoard.tsx';
import { useReadersDay } from './readersDay.ts';
import { StudioHead } from './studioHead.tsx';

/** All couples by the day of their dance, with what each still lacks. */
export function Studio({ name, list, zone }: { name: string; list: ListPage; zone: string | null }) {
  const { boards, total, from, named } = list;
  useReadersDay(boards, zone);
  const [adding, setAdding] = useState(false);
  const { coming, undated, danced } = byDate(boards);
  const first = total === 0 && named === '';
  const isPaged = total > PAGE;
  return (
    <main className="sheet-page max-w-5xl!">
      <StudioHead name={name} />
      {first ? (
        <div className="mt-10 max-w-prose">
          <h2 className="text-3xl">No couples yet.</h2>
          <p className="mt-2 text-lg">
            Two names are enough to begin. Song, date and everything else can follow whenever they are known.
          </p>
        </div>
      ) : null}
      {adding || first ? (
        <div className="mt-6">
          <NewBoard onClose={first ? null : () => setAdding(false)} />
        </div>
      ) : null}
      <div className="mt-6 flex flex-wrap items-center gap-3">
        {adding || first ? null : (
          <Button look="main" onClick={() => setAdding(true)}>
            New couple
          </Button>
        )}
        <BringBoard />
      </div>
      {isPaged || named !== '' ? <FindCouple named={named} total={total} /> : null}
      <Couples title="Coming up" boards={coming} />
      <Couples title="Without a date" boards={undated} />
      {danced.length > 0 ? (
        // Whoever came for these has them in sight: by a search, or by turning to a page of theirs.
        <details
          key={`${from} ${named}`}
          className="mt-10"
          open={named !== '' || danced.length === boards.length}
        >
          <summary className="min-h-11 py-2 font-serif text-2xl">
            Danced ({danced.length}
            {isPaged ? ' on this page' : ''})
          </summary>
          <ul className="border-t border-rule">
            {danced.map((board) => (
              <CoupleRow key={board.id} board={board} />
            ))}
          </ul>
        </details>
      ) : null}
      <ListPages from={from} total={total} named={named} />
    </main>
  );
}

function Couples({ title, boards }: { title: string; boards: BoardSummary[] }) {
  if (boards.length === 0) return null;
  return (
    <section className="mt-10" aria-label={title}>
      <h2 className="text-2xl">{title}</h2>
      <ul className="mt-2 border-t-2 border-ink">
        {boards.map((board) => (
          <CoupleRow key={board.id} board={board} />
        ))}
      </ul>
    </section>
  );
}
