'use client';

import { useState } from 'react';
import { mayInvite } from '@/lib/access/roles.ts';
import { type AreaName, areas } from '@/lib/core/areas/board.ts';
import { may } from '@/lib/core/areas/rights.ts';
import type { Instant } from '@/lib/core/calendar.ts';
import type { LinkSummary, MadeWith } from '@/lib/protocol/api.ts';
import { dayIn } from '@/lib/zone/dayIn.ts';
import type { Me } from '../_client/boardState.ts';
import { useBoard } from '../_client/room.tsx';
import { ask } from '../_ui/api.ts';
import { Button } from '../_ui/button.tsx';
import { roleWords } from '../_ui/roles.ts';
import { instantDay, instantWords } from './dates.ts';
import { AskFreeze, AskRevoke } from './linkQuestions.tsx';
import { type Branch, countMade, makerWords, openedWords } from './linkTree.ts';
import { TakeBackWrites } from './takeBackWrites.tsx';

interface Row {
  me: Me;
  branch: Branch;
  /** All that there are, its maker among them. */
  links: readonly LinkSummary[];
  /** What went wrong, else what was done, in sentences. */
  onDone: (problem: string | null, sentences: readonly string[]) => Promise<void>;
}

/** One link: whose, by whom, until when and where it was opened; and what can be done about it. */
export function LinkRow({ me, branch, links, onDone }: Row) {
  const { link } = branch;
  const { plan, show } = useBoard('board').board;
  const ends = (at: Instant) => dayIn(show?.zone, null, new Date(at));
  const maker = makerWords(link, links, { role: me.role, own: me.membership });
  return (
    <div className="border-b border-rule py-2">
      <p className="font-serif text-xl">{roleWords[link.role]}</p>
      <p className="text-soft">
        made {instantDay(link.madeAt)}
        {maker ? ` ${maker}` : ''}; holds{' '}
        {link.endsAt ? `until ${instantDay(link.endsAt)}` : 'until it is taken back'};{' '}
        {openedWords(link.browsers)}
      </p>
      {link.frozenAt ? (
        <p className="text-wine">Stopped from writing since {instantWords(link.frozenAt)}; it reads on.</p>
      ) : null}
      {plan.date !== null && link.endsAt !== null && ends(link.endsAt) < plan.date ? (
        <p className="text-wine">It ends before the day of the dance: make a new one.</p>
      ) : null}
      <Deeds me={me} branch={branch} onDone={onDone} />
    </div>
  );
}

/** Whether a link of this role can write at all. */
const writes = (branch: Branch): boolean =>
  (Object.keys(areas) as AreaName[]).some((area) => may(branch.link.role, area, 'write')) ||
  branch.made.some(writes);

function Deeds({ me, branch, onDone }: Omit<Row, 'links'>) {
  const { link } = branch;
  const [asking, setAsking] = useState<'revoke' | 'freeze' | 'writes' | null>(null);
  const whose = `the link for the ${roleWords[link.role]}`;
  const address = `/api/boards/${me.board}/links/${link.id}?as=${me.role}`;
  const revoke = async (madeWith: MadeWith) => {
    setAsking(null);
    const gone = await ask(`${address}&madeWith=${madeWith}`, { method: 'DELETE' });
    await onDone(gone.ok ? null : gone.sentence, []);
  };
  const freeze = async (frozen: boolean) => {
    setAsking(null);
    const done = await ask(address, { method: 'PUT', json: { frozen } });
    await onDone(done.ok ? null : done.sentence, []);
  };
  const isInstructor = me.role === 'instructor';
  const isOwn = link.id === me.membership;
  return (
    <div className="-ml-2 flex flex-wrap">
      {isInstructor && writes(branch) && !isOwn ? (
        <>
          {link.frozenAt ? (
            <Button
              look="quiet"
              className="px-2!"
              aria-label={`Let it write again: ${whose}`}
              onClick={() => void freeze(false)}
            >
              Let it write again
            </Button>
          ) : (
            <Button
              look="quiet"
              className="px-2!"
              aria-label={`Stop it from writing: ${whose}`}
              onClick={() => setAsking('freeze')}
            >
              Stop it from writing
            </Button>
          )}
          <Button
            look="quiet"
            className="px-2!"
            aria-label={`Take back what it wrote: ${whose}`}
            onClick={() => setAsking('writes')}
          >
            Take back what it wrote
          </Button>
        </>
      ) : null}
      {mayInvite(me.role, link.role) ? (
        <Button
          look="quiet"
          className="px-2!"
          aria-label={`Take back ${whose}`}
          onClick={() => setAsking('revoke')}
        >
          Take back
        </Button>
      ) : null}
      {asking === 'revoke' ? (
        <AskRevoke
          role={link.role}
          made={countMade(branch)}
          mayKeep={isInstructor}
          onNo={() => setAsking(null)}
          onYes={(madeWith) => void revoke(madeWith)}
        />
      ) : null}
      {asking === 'freeze' ? (
        <AskFreeze
          role={link.role}
          made={countMade(branch)}
          onNo={() => setAsking(null)}
          onYes={() => void freeze(true)}
        />
      ) : null}
      {asking === 'writes' ? (
        <TakeBackWrites me={me} link={link} onNo={() => setAsking(null)} onDone={onDone} />
      ) : null}
    </div>
  );
}
