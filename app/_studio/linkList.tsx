'use client';

import { useRef, useState } from 'react';
import type { LinkSummary } from '@/lib/protocol/api.ts';
import type { Me } from '../_client/boardState.ts';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { LinkRow } from './linkRow.tsx';
import { type Branch, linkTree } from './linkTree.ts';

/** The links there are, each with those that were made with it; each may be taken back by whoever may make such a one. */
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
  onProblem: (sentence: string | null) => void;
}) {
  const [done, setDone] = useState<readonly string[]>([]);
  const section = useRef<HTMLElement>(null);
  /** After something was done to a link, whose line may be gone with the button on it. */
  const onDone = async (problem: string | null, sentences: readonly string[]) => {
    onProblem(problem);
    setDone(sentences);
    section.current?.focus();
    await onRead();
  };
  const list = (branches: readonly Branch[], isTop: boolean) => (
    <ul className={isTop ? 'mt-2' : 'border-l border-rule pl-3 md:pl-5'}>
      {branches.map((branch) => (
        <li key={branch.link.id}>
          <LinkRow me={me} branch={branch} links={links ?? []} onDone={onDone} />
          {branch.made.length > 0 ? list(branch.made, false) : null}
        </li>
      ))}
    </ul>
  );
  return (
    <section ref={section} tabIndex={-1} aria-labelledby="out">
      <h3 id="out" className="text-2xl">
        Given out
      </h3>
      <div role="status">
        {done.map((sentence) => (
          <p key={sentence} className="mt-2 border-l-[3px] border-moss py-1 pl-3">
            {sentence}
          </p>
        ))}
      </div>
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
      {links ? list(linkTree(links), true) : null}
    </section>
  );
}
