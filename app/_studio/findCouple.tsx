'use client';

import { useRouter } from 'next/navigation';
import { type FormEvent, useTransition } from 'react';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { listAddress } from './listPage.ts';

/** Looks for couples by name, over all pages of the list. */
export function FindCouple({ named, total }: { named: string; total: number }) {
  const router = useRouter();
  const [busy, begin] = useTransition();
  const find = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const words = String(new FormData(event.currentTarget).get('named')).trim();
    begin(() => router.push(listAddress(1, words)));
  };
  return (
    <search className="mt-6">
      {/* It works before the page listens, too: the fields are those of the address. */}
      <form action="/" onSubmit={find} className="flex flex-wrap items-end gap-3">
        <div className="min-w-0 flex-1 sm:max-w-72">
          <TextField
            key={named}
            type="search"
            label="Find a couple by name"
            name="named"
            defaultValue={named}
            maxLength={80}
            autoComplete="off"
          />
        </div>
        <Button type="submit" disabled={busy}>
          {busy ? 'Looking…' : 'Find'}
        </Button>
        {named === '' ? null : (
          <Button look="quiet" className="px-2!" onClick={() => begin(() => router.push('/'))}>
            Show all
          </Button>
        )}
      </form>
      <p role="status" className="mt-2 text-soft empty:hidden">
        {named === '' ? '' : total === 0 ? `No couple has “${named}” in a name.` : foundWords(total)}
      </p>
    </search>
  );
}

const foundWords = (total: number): string => (total === 1 ? '1 couple found.' : `${total} couples found.`);
