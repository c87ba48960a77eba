'use client';

import { useState } from 'react';
import type { z } from '@/lib/core/zod.ts';
import type { readableAnswer } from '@/lib/protocol/api.ts';
import { instantWords } from '../_studio/dates.ts';
import { ask } from '../_ui/api.ts';
import { Button } from '../_ui/button.tsx';
import { keepFile } from '../_ui/keepFile.ts';
import { areaWords } from '../_ui/roles.ts';
import type { Said } from './historyScreen.tsx';

type Readable = z.infer<typeof readableAnswer>;

/** The board as a file, which can be brought as a new one; what is damaged is in it as it last could be read. */
export function TakeReadable({ board, onSaid }: { board: string; onSaid: (said: Said) => void }) {
  const [busy, setBusy] = useState(false);
  const take = async () => {
    setBusy(true);
    const got = await ask<Readable>(`/api/boards/${board}/history/readable?as=instructor`);
    setBusy(false);
    if (!got.ok) return onSaid({ kind: 'wrong', sentences: [got.sentence] });
    const { file, earlier } = got.value;
    keepFile('board.json', JSON.stringify(file, null, 2));
    onSaid({ kind: 'settled', sentences: ['The file is yours to keep.', ...earlier.map(earlierWords)] });
  };
  return (
    <p className="mt-4">
      <Button disabled={busy} onClick={() => void take()}>
        {busy ? 'One moment…' : 'Take along what can be read'}
      </Button>
    </p>
  );
}

const earlierWords = ({ area, at }: Readable['earlier'][number]): string =>
  at === null
    ? `${areaWords[area]}: nothing of it can be read, and the file holds nothing of it.`
    : `${areaWords[area]}: the file holds what stood there on ${instantWords(at)}.`;
