'use client';

import { useRouter } from 'next/navigation';
import { type FormEvent, useState } from 'react';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { useListens } from '../_ui/useListens.ts';
import { DIFFER, NewPassphrase } from './newPassphrase.tsx';
import { sendForm } from './sendForm.ts';
import { TitlePage } from './titlePage.tsx';

/** First run: the instructor takes the house over with the code from the console. */
export function SetUp() {
  const router = useRouter();
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const listens = useListens();
  const send = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const { code, name, passphrase, again } = Object.fromEntries(form) as Record<string, string>;
    if (passphrase !== again) {
      setProblem(DIFFER);
      return;
    }
    setBusy(true);
    const refused = await sendForm('/api/set-up', { code: code?.trim(), name, passphrase });
    setBusy(false);
    if (refused) setProblem(refused);
    else router.refresh();
  };
  return (
    <TitlePage title="Welcome" under="Two minutes, and the studio is yours.">
      <form onSubmit={send} className="grid max-w-md gap-5">
        <TextField
          label="Code"
          name="code"
          required
          autoComplete="one-time-code"
          autoCapitalize="none"
          spellCheck={false}
          hint="It stands on the console where Larkstep was started."
        />
        <TextField
          label="Your name"
          name="name"
          required
          maxLength={80}
          autoComplete="name"
          hint="As your couples know you."
        />
        <NewPassphrase label="Passphrase" again="The same passphrase again" />
        {problem ? <Notice kind="wrong">{problem}</Notice> : null}
        <p>
          <Button type="submit" look="main" disabled={busy || !listens}>
            {busy ? 'One moment…' : 'Open the studio'}
          </Button>
        </p>
      </form>
    </TitlePage>
  );
}
