'use client';

import { useRef, useState } from 'react';
import { mayInvite } from '@/lib/access/roles.ts';
import type { Instant } from '@/lib/core/calendar.ts';
import type { LinkSummary } from '@/lib/protocol/api.ts';
import { dayIn } from '@/lib/zone/dayIn.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { ask } from '../_ui/api.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { roleWords } from '../_ui/roles.ts';
import { instantDay } from './dates.ts';

/** The links there are; each may be taken back by whoever may make such a one. */
export function LinkList({
  me,
  links,
  unread,
  onRead,
  onProblem,
}: {
  me: Me;
  /** Null while they are looked for, and where that failed. */
  links: LinkSummary[] | null;
  /** Why they could not be looked for. */
  unread: string | null;
  onRead: () => Promise<void>;
  onProblem: (sentence: string) => void;
}) {
  const [asking, setAsking] = useState<LinkSummary | null>(null);
  const section = useRef<HTMLElement>(null);
  const { plan, show } = useBoard('board').board;
  const ends = (at: Instant) => dayIn(show?.zone, null, new Date(at));
  const revoke = async (link: LinkSummary) => {
    setAsking(null);
    const gone = await ask(`/api/boards/${me.board}/links/${link.id}?as=${me.role}`, { method: 'DELETE' });
    if (!gone.ok) onProblem(gone.sentence);
    // The line of the link goes, and the button on it.
    section.current?.focus();
    await onRead();
  };
  return (
    <section ref={section} tabIndex={-1} aria-labelledby="out">
      <h3 id="out" className="text-2xl">
        Given out
      </h3>
      {unread ? (
        <div className="mt-2 space-y-3">
          <Notice kind="wrong">{unread}</Notice>
          <Button
            onClick={() => {
              // The button goes; whoever pressed it stays here.
              section.current?.focus();
              void onRead();
            }}
          >
            Look again
          </Button>
        </div>
      ) : links === null ? (
        <p role="status" className="mt-1 text-soft">
          Looking…
        </p>
      ) : null}
      {links?.length === 0 ? <p className="mt-1 text-soft">None yet.</p> : null}
      <ul className="mt-2">
        {links?.map((link) => (
          <li key={link.id} className="flex items-center justify-between gap-x-4 border-b border-rule py-2">
            <p className="min-w-0">
              <span className="block font-serif text-xl">{roleWords[link.role]}</span>
              <span className="text-soft">
                made {instantDay(link.madeAt)}; holds{' '}
                {link.endsAt ? `until ${instantDay(link.endsAt)}` : 'until it is taken back'};{' '}
                {openedWords(link.browsers)}
              </span>
              {plan.date !== null && link.endsAt !== null && ends(link.endsAt) < plan.date ? (
                <span className="block text-wine">It ends before the day of the dance: make a new one.</span>
              ) : null}
            </p>
            {mayInvite(me.role, link.role) ? (
              <Button
                look="quiet"
                className="shrink-0 px-2!"
                aria-label={`Take back the link for the ${roleWords[link.role]}`}
                onClick={() => setAsking(link)}
              >
                Take back
              </Button>
            ) : null}
          </li>
        ))}
      </ul>
      {asking ? (
        <Asking
          title={`Take back this link for the ${roleWords[asking.role]}?`}
          yes="Take it back"
          onNo={() => setAsking(null)}
          onYes={() => void revoke(asking)}
        >
          <p>Whoever came by it is out at once. What they wrote stays on the board.</p>
        </Asking>
      ) : null}
    </section>
  );
}

const openedWords = (browsers: number): string =>
  browsers === 0
    ? 'not opened yet'
    : browsers === 1
      ? 'opened on one device'
      : `opened on ${browsers} devices`;
