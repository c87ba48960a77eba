'use client';

import { useRouter } from 'next/navigation';
import { type FormEvent, useState } from 'react';
import type { z } from '@/lib/core/zod.ts';
import type { newBoardAnswer } from '@/lib/protocol/api.ts';
import { ask } from '../_ui/api.ts';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { boardAddress } from '../_ui/roles.ts';

/** A new board in under a minute; leads to its song. */
export function NewBoard({ onClose }: { onClose: (() => void) | null }) {
  const router = useRouter();
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const send = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const { one, other, date, venue } = Object.fromEntries(new FormData(event.currentTarget)) as Record<
      string,
      string
    >;
    if (!one?.trim() || !other?.trim()) return setProblem('Please give both of them a name.');
    setBusy(true);
    const made = await ask<z.infer<typeof newBoardAnswer>>('/api/boards', {
      method: 'POST',
      json: { one, other, date: date || null, venue: venue ?? '' },
    });
    setBusy(false);
    if (made.ok) router.push(boardAddress(made.value.id, 'song', 'instructor'));
    else setProblem(made.sentence);
  };
  return (
    <form onSubmit={send} className="max-w-2xl border-l-[3px] border-ink pl-5">
      <h2 className="text-2xl">A new couple</h2>
      <div className="mt-3 grid items-baseline gap-4 sm:grid-cols-2">
        <TextField label="One of them" name="one" required maxLength={80} autoComplete="off" autoFocus />
        <TextField label="The other" name="other" required maxLength={80} autoComplete="off" />
        <TextField label="Day of the party, if known" name="date" type="date" />
        <TextField label="Venue, if known" name="venue" maxLength={120} autoComplete="off" />
      </div>
      {problem ? (
        <div className="mt-4">
          <Notice kind="wrong">{problem}</Notice>
        </div>
      ) : null}
      <p className="mt-5 flex flex-wrap gap-3">
        <Button type="submit" look="main" disabled={busy}>
          {busy ? 'One moment…' : 'Begin their board'}
        </Button>
        {onClose ? (
          <Button look="quiet" onClick={onClose}>
            Not now
          </Button>
        ) : null}
      </p>
    </form>
  );
}
