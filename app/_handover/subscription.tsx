'use client';

import { useState } from 'react';
import type { Me } from '../_client/boardState.ts';
import { ask } from '../_ui/api.ts';
import { Button } from '../_ui/button.tsx';
import { CopyText } from '../_ui/copyText.tsx';
import { Notice } from '../_ui/notice.tsx';

/** A private address for a calendar that stays current by itself. */
export function Subscription({ me }: { me: Me }) {
  const [url, setUrl] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const make = async () => {
    const made = await ask<{ url: string }>(`/api/boards/${me.board}/calendar?as=${me.role}`, {
      method: 'POST',
      json: {},
    });
    if (made.ok) setUrl(made.value.url);
    setProblem(made.ok ? null : made.sentence);
  };
  return (
    <div className="mt-6">
      <h4 className="text-xl font-semibold">In your calendar, always current</h4>
      {url === null ? (
        <>
          <p className="max-w-prose text-soft">
            An address of your own, to which your calendar subscribes. Making a new one ends the one you had.
          </p>
          <Button className="mt-2" onClick={make}>
            Make my calendar address
          </Button>
        </>
      ) : (
        <>
          <p className="my-2 rounded bg-paper-2 p-3 break-all select-all">{url}</p>
          <CopyText text={url} words="Copy the address" />
          <p className="mt-2 text-soft">
            It is shown this once. Whoever has it can read the entry: keep it to yourself.
          </p>
        </>
      )}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
    </div>
  );
}
