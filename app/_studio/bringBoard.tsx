'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useRef, useState } from 'react';
import type { importAnswer } from '@/lib/protocol/api.ts';
import { ask } from '../_ui/api.ts';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { boardAddress } from '../_ui/roles.ts';

type Brought = (typeof importAnswer)['_output'];

/** A board out of the file that was taken along from here or elsewhere. */
export function BringBoard() {
  const router = useRouter();
  const field = useRef<HTMLInputElement>(null);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const [brought, setBrought] = useState<Brought | null>(null);
  const bring = async (file: File | undefined) => {
    if (!file) return;
    setBusy(true);
    setProblem(null);
    setBrought(null);
    const made = await ask<Brought>('/api/boards/import', { method: 'POST', body: await file.text() });
    setBusy(false);
    if (!made.ok) return setProblem(`${file.name}: ${made.sentence}`);
    setBrought(made.value);
    router.refresh();
  };
  return (
    <>
      <Button look="quiet" className="-mx-2 px-2!" disabled={busy} onClick={() => field.current?.click()}>
        {busy ? 'One moment…' : 'Bring a board'}
      </Button>
      <input
        ref={field}
        type="file"
        accept="application/json,.json"
        aria-label="The file of a board"
        tabIndex={-1}
        className="sr-only"
        onChange={(event) => {
          void bring(event.target.files?.[0]);
          event.target.value = '';
        }}
      />
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      {brought ? (
        <Notice kind="settled">
          The board is here, without links, and{' '}
          <Link href={boardAddress(brought.id, 'song', 'instructor')}>open to you</Link>.
          {brought.recording
            ? ' Its file names the song but does not hold it: choose the song’s file once more.'
            : ''}
        </Notice>
      ) : null}
    </>
  );
}
