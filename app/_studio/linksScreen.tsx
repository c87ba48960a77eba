'use client';

import { type FormEvent, useCallback, useEffect, useState } from 'react';
import { mayInvite } from '@/lib/access/roles.ts';
import { type Role, role as roles } from '@/lib/core/areas/people.ts';
import type { LinkSummary } from '@/lib/protocol/api.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { ask } from '../_ui/api.ts';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { Button } from '../_ui/button.tsx';
import { CopyText } from '../_ui/copyText.tsx';
import { Choice } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { roleWords } from '../_ui/roles.ts';
import { invitation, spans } from './invitation.ts';
import { LinkList } from './linkList.tsx';
import { QrCode } from './qrCode.tsx';
import { TakeAlong } from './takeAlong.tsx';

const guestWords: Record<Role, string> = {
  couple: 'the couple',
  dj: 'the DJ, or whoever plays the music',
  planner: 'the planner',
  crew: 'camera, lights or the MC',
  instructor: 'another instructor',
};

/** Links for the others: made here, shown once, taken back here. */
export function LinksScreen({ me }: { me: Me }) {
  const [links, setLinks] = useState<LinkSummary[] | null>(null);
  const [made, setMade] = useState<{ url: string; role: Role } | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  /** Why the links given out are not known. */
  const [unread, setUnread] = useState<string | null>(null);
  const read = useCallback(async () => {
    setUnread(null);
    const got = await ask<{ links: LinkSummary[] }>(`/api/boards/${me.board}/links?as=${me.role}`);
    if (got.ok) setLinks(got.value.links);
    else setUnread(got.sentence);
  }, [me]);
  useEffect(() => void read(), [read]);
  const guests = (['couple', 'dj', 'planner', 'crew', 'instructor'] as const).filter((guest) =>
    mayInvite(me.role, guest),
  );
  if (guests.length === 0)
    return (
      <BoardFrame>
        <h2 className="text-3xl">Links</h2>
        <p className="mt-2 mb-10 max-w-prose text-lg">
          Links are given out by the couple and their instructor. Does somebody else need one? Please ask
          them.
        </p>
        <TakeAlong me={me} />
      </BoardFrame>
    );
  return (
    <BoardFrame>
      <h2 className="text-3xl">Links</h2>
      <p className="mt-1 max-w-prose text-soft">
        Whoever opens a link is on the board in that role, without an account. Each role sees and changes only
        its own part.
      </p>
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <div className="mt-6 grid gap-x-14 gap-y-10 lg:grid-cols-2">
        <div className="min-w-0 space-y-8">
          <NewLink
            me={me}
            guests={guests}
            onMade={(link) => {
              setMade(link);
              setProblem(null);
              void read();
            }}
            onProblem={setProblem}
          />
          {made ? <MadeLink key={made.url} {...made} /> : null}
        </div>
        <div className="min-w-0 space-y-10">
          <LinkList me={me} links={links} unread={unread} onRead={read} onProblem={setProblem} />
          <TakeAlong me={me} />
        </div>
      </div>
    </BoardFrame>
  );
}

function NewLink({
  me,
  guests,
  onMade,
  onProblem,
}: {
  me: Me;
  guests: readonly Role[];
  onMade: (link: { url: string; role: Role }) => void;
  onProblem: (sentence: string) => void;
}) {
  const { board, today } = useBoard('board', 'today');
  const choices = spans(today, board.plan.date);
  const [busy, setBusy] = useState(false);
  const make = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const role = roles.parse(form.get('role'));
    const days = choices[Number(form.get('span'))]?.days ?? null;
    setBusy(true);
    const link = await ask<{ url: string }>(`/api/boards/${me.board}/links?as=${me.role}`, {
      method: 'POST',
      json: { role, days },
    });
    setBusy(false);
    if (link.ok) onMade({ url: link.value.url, role });
    else onProblem(link.sentence);
  };
  return (
    <form onSubmit={make} className="grid max-w-md gap-4">
      <Choice label="A link for" name="role">
        {guests.map((guest) => (
          <option key={guest} value={guest}>
            {guestWords[guest]}
          </option>
        ))}
      </Choice>
      <Choice label="It holds" name="span">
        {choices.map((span, i) => (
          <option key={span.words} value={i}>
            {span.words}
          </option>
        ))}
      </Choice>
      <p>
        <Button type="submit" look="main" once disabled={busy}>
          {busy ? 'One moment…' : 'Make the link'}
        </Button>
      </p>
    </form>
  );
}

function MadeLink({ url, role }: { url: string; role: Role }) {
  const { board } = useBoard('board');
  const [name] = useMyName();
  const text = invitation(board.plan, role, url, name);
  return (
    <section aria-labelledby="made" className="border-l-[3px] border-moss pl-5">
      <h3 id="made" className="text-2xl">
        A link for {guestWords[role]}
      </h3>
      <p className="mt-1 text-soft">
        It is shown this once. Copy or send it now; another one is quickly made.
      </p>
      <p className="my-3 rounded bg-paper-2 p-3 break-all select-all">{url}</p>
      <CopyText text={url} words="Copy the link" />
      <div className="mt-5 flex flex-wrap gap-6">
        <QrCode text={url} label={`Code for the link of the ${roleWords[role]}`} />
        <div className="min-w-0 flex-1 basis-64">
          <h4 className="font-semibold">Ready to send</h4>
          <p className="mt-1 mb-3 break-words whitespace-pre-wrap text-soft">{text}</p>
          <CopyText text={text} words="Copy the message" />
        </div>
      </div>
    </section>
  );
}
