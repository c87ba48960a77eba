'use client';

import Link from 'next/link';
import type { FormEvent } from 'react';
import { type AnswerState, isSaid } from '@/lib/core/agreed/answerState.ts';
import { currentDigest, playedEdit } from '@/lib/core/agreed/played.ts';
import { spokenVersions } from '@/lib/core/agreed/version.ts';
import { dayWords } from '@/lib/core/areas/days.ts';
import type { Day } from '@/lib/core/calendar.ts';
import { dayAfter } from '@/lib/core/dayCount.ts';
import { editDifferences } from '@/lib/core/edit/differences.ts';
import { useBoard } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { instantWords, nowAfter } from '../_studio/dates.ts';
import { Button, buttonClass } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { TextField } from '../_ui/field.tsx';
import { boardAddress } from '../_ui/roles.ts';
import { ChangedSince } from './changedSince.tsx';
import { useSeen } from './useSeen.ts';

/** Days in which an answer is hoped for unless somebody says otherwise; common practice, no source. */
const DAYS = 10;

/** Asking for the DJ's yes to exactly this version, by a day. */
export function AskDj({ state }: { state: AnswerState }) {
  const { board, me, today } = useBoard('board', 'me', 'today');
  const { asked, date } = board.plan;
  const { change, problem } = useChanging('plan');
  const [name] = useMyName();
  const digest = currentDigest(board.plan);
  const now = { digest: digest ?? '', edit: playedEdit(board.plan) };
  const seen = useSeen(now, (one) => one.digest);
  if (digest === null || isSaid(state)) return null;
  const hoped = dayAfter(today, DAYS);
  const usual = date && date >= today && date < hoped ? date : hoped;
  const outdated = asked !== null && asked.digest !== digest;
  const ask = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const answerBy = (String(new FormData(event.currentTarget).get('answerBy') ?? '') || null) as Day | null;
    const at = nowAfter((board.answer?.answers ?? []).map((answer) => answer.at));
    const value = { digest, at, by: name, answerBy, before: spokenVersions(board) };
    seen.tap(() => change({ register: 'asked', value }));
  };
  return (
    <form onSubmit={ask} className="mt-4 [&_label]:text-night-soft">
      {asked ? (
        <p className={outdated ? 'text-night-wine' : 'text-night-soft'}>
          {asked.by} asked on {instantWords(asked.at)}
          {asked.answerBy ? `, for an answer by ${dayWords(asked.answerBy)}` : ''}
          {outdated ? '; what is played has changed since.' : '.'}
        </p>
      ) : null}
      {seen.before ? <ChangedSince night differs={editDifferences(seen.before.edit, now.edit)} /> : null}
      <div className="no-print mt-2 flex flex-wrap items-baseline gap-3">
        <div className="w-48">
          <TextField
            key={asked?.answerBy ?? usual}
            label="Answer wanted by"
            name="answerBy"
            type="date"
            min={today}
            defaultValue={asked?.answerBy ?? usual}
          />
        </div>
        <Button type="submit" look="night-main" once data-does="answer">
          {asked ? 'Ask again' : 'Ask the DJ'}
        </Button>
        <Link
          prefetch={false}
          href={boardAddress(me.board, 'links', me.role)}
          className={buttonClass('night')}
        >
          Give them a link
        </Link>
      </div>
      {problem ? (
        <p role="alert" className="mt-3 text-night-wine">
          {problem}
        </p>
      ) : null}
    </form>
  );
}
