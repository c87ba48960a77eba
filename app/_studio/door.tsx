'use client';

import { useRouter } from 'next/navigation';
import { type FormEvent, useState } from 'react';
import { dayWords } from '@/lib/core/areas/days.ts';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Names } from '../_ui/names.tsx';
import { Notice } from '../_ui/notice.tsx';
import { boardAddress, roleWords, screensOf } from '../_ui/roles.ts';
import { useListens } from '../_ui/useListens.ts';
import type { HeldBoard } from './heldBoards.ts';
import { LeftBehind, type TakenBack } from './leftBehind.tsx';
import { sendForm } from './sendForm.ts';
import { TitlePage } from './titlePage.tsx';

/** Why somebody was led here, by the code that the board's page gave. */
const reasons: Record<string, string> = {
  ended: 'That link has ended. Please ask whoever gave it to you for a new one.',
  revoked: 'That link was taken back. Please ask whoever gave it to you for a new one.',
  'not found': 'That board is no longer there.',
  'no right': 'This browser holds no link to that page. Please open your link once more.',
  'too often': 'That was too often. Please wait a minute and open your link again.',
  'disk full': 'The server’s disk is full: nothing was changed. Please tell your instructor.',
  role: 'That address is not complete. Please open your link once more.',
};

/** Before signing in: the boards this browser holds links to, and the instructor's way in. */
export function Door({
  held,
  why,
  takenBack,
}: {
  held: HeldBoard[];
  why: string | null;
  takenBack: TakenBack | null;
}) {
  return (
    <TitlePage title="First dances" under="Song, moves, ending and hand-over, on one sheet.">
      {why ? (
        <div className="mb-6">
          <Notice kind="wrong">{reasons[Object.hasOwn(reasons, why) ? why : 'no right']}</Notice>
        </div>
      ) : null}
      {takenBack ? <LeftBehind {...takenBack} /> : null}
      {held.length > 0 ? <HeldBoards held={held} /> : null}
      <section aria-labelledby="sign-in" className="mt-10 border-t-2 border-ink pt-5">
        <h2 id="sign-in" className="text-2xl">
          For the instructor
        </h2>
        <SignIn />
      </section>
      {held.length === 0 ? (
        <p className="mt-10 max-w-prose text-soft">
          A couple, a DJ, a planner? You need no account: open the link that was sent to you.
        </p>
      ) : null}
    </TitlePage>
  );
}

function HeldBoards({ held }: { held: HeldBoard[] }) {
  return (
    <section aria-labelledby="held">
      <h2 id="held" className="text-2xl">
        {held.length === 1 ? 'Your board' : 'Your boards'}
      </h2>
      <ul className="mt-3 border-t border-rule">
        {held.map(({ board, role, couple, song, date }) => (
          <li key={`${board}/${role}`} className="border-b border-rule py-2">
            <a
              href={boardAddress(board, screensOf[role][0] ?? 'sheet', role)}
              className="flex min-h-11 flex-wrap content-center items-baseline gap-x-3 no-underline hover:bg-paper-2"
            >
              <span className="min-w-0 font-serif text-2xl break-words">
                {couple ? <Names {...couple} /> : 'A first dance'}
              </span>
              {song ? <bdi className="sung min-w-0 text-xl break-words">{song}</bdi> : null}
              <span className="text-soft">
                {date ? `${dayWords(date)}, ` : ''}
                you come as {roleWords[role]}
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function SignIn() {
  const router = useRouter();
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const listens = useListens();
  const send = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const passphrase = new FormData(event.currentTarget).get('passphrase');
    setBusy(true);
    const refused = await sendForm('/api/sign-in', { passphrase });
    setBusy(false);
    setProblem(refused);
    if (refused) return;
    router.replace('/');
    router.refresh();
  };
  return (
    <form onSubmit={send} className="mt-4 grid max-w-md gap-4">
      <TextField
        label="Passphrase"
        name="passphrase"
        type="password"
        required
        autoComplete="current-password"
      />
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <p>
        <Button type="submit" look="main" disabled={busy || !listens}>
          {busy ? 'One moment…' : 'Sign in'}
        </Button>
      </p>
    </form>
  );
}
