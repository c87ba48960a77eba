'use client';

import { type FormEvent, useRef, useState } from 'react';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { useListens } from '../_ui/useListens.ts';
import { DIFFER, NewPassphrase } from './newPassphrase.tsx';
import { sendForm } from './sendForm.ts';
import { StudioHead } from './studioHead.tsx';

/** The passphrase in place of the one until now, and an end to all other sessions. */
export function PassphraseScreen({ name }: { name: string }) {
  return (
    <main className="sheet-page max-w-5xl!">
      <StudioHead name={name} />
      <div className="mt-8 grid gap-x-14 gap-y-10 md:grid-cols-2">
        <section aria-labelledby="change">
          <h2 id="change" className="text-2xl">
            Change the passphrase
          </h2>
          <p className="mt-1 text-soft">
            Whoever is signed in elsewhere is signed out, and needs the new one.
          </p>
          <Change />
        </section>
        <section aria-labelledby="elsewhere">
          <h2 id="elsewhere" className="text-2xl">
            Signed in elsewhere
          </h2>
          <p className="mt-1 text-soft">
            A device that was lost or lent, a browser that you forgot to leave: all are signed out but this
            one. Links that you gave out keep working.
          </p>
          <Elsewhere />
        </section>
      </div>
    </main>
  );
}

/** What came of it: a sentence of the server that refuses, or our own. */
type Outcome = { kind: 'wrong' | 'settled'; sentence: string } | null;

function Change() {
  const [outcome, setOutcome] = useState<Outcome>(null);
  const [busy, setBusy] = useState(false);
  const form = useRef<HTMLFormElement>(null);
  const listens = useListens();
  const send = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const words = Object.fromEntries(new FormData(event.currentTarget)) as Record<string, string>;
    const { old, passphrase, again } = words;
    if (passphrase !== again) {
      setOutcome({ kind: 'wrong', sentence: DIFFER });
      return;
    }
    setBusy(true);
    const refused = await sendForm('/api/passphrase', { old, passphrase });
    setBusy(false);
    if (!refused) form.current?.reset();
    setOutcome(
      refused
        ? { kind: 'wrong', sentence: refused }
        : { kind: 'settled', sentence: 'The new passphrase holds from now on.' },
    );
  };
  return (
    <form ref={form} onSubmit={send} className="mt-4 grid max-w-md gap-4">
      <TextField
        label="Current passphrase"
        name="old"
        type="password"
        required
        autoComplete="current-password"
      />
      <NewPassphrase label="New passphrase" again="New passphrase again" />
      {outcome ? <Notice kind={outcome.kind}>{outcome.sentence}</Notice> : null}
      <p>
        <Button type="submit" look="main" disabled={busy || !listens}>
          {busy ? 'One moment…' : 'Change it'}
        </Button>
      </p>
    </form>
  );
}

function Elsewhere() {
  const [outcome, setOutcome] = useState<Outcome>(null);
  const [busy, setBusy] = useState(false);
  const send = async () => {
    setBusy(true);
    const refused = await sendForm('/api/sign-out/elsewhere', {});
    setBusy(false);
    setOutcome(
      refused
        ? { kind: 'wrong', sentence: refused }
        : { kind: 'settled', sentence: 'You are signed in here alone.' },
    );
  };
  return (
    <div className="mt-4 space-y-4">
      {outcome ? <Notice kind={outcome.kind}>{outcome.sentence}</Notice> : null}
      <Button disabled={busy} onClick={() => void send()}>
        {busy ? 'One moment…' : 'Sign out everywhere else'}
      </Button>
    </div>
  );
}
