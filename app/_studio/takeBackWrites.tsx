'use client';

import { useState } from 'react';
import type { Instant } from '@/lib/core/calendar.ts';
import type { LinkSummary } from '@/lib/protocol/api.ts';
import { instantOf } from '@/lib/zone/dayIn.ts';
import type { Me } from '../_client/boardState.ts';
import { ask } from '../_ui/api.ts';
import { Asking } from '../_ui/asking.tsx';
import { Choice, TextField } from '../_ui/field.tsx';
import { roleWords } from '../_ui/roles.ts';
import { instantWords } from './dates.ts';

const HOUR_MS = 3_600_000;
type Since = 'hour' | 'today' | 'time';

/** Takes back what a link wrote since a time, and says what came of it. */
export function TakeBackWrites({
  me,
  link,
  onNo,
  onDone,
}: {
  me: Me;
  link: LinkSummary;
  onNo: () => void;
  onDone: (problem: string | null, sentences: readonly string[]) => Promise<void>;
}) {
  const [since, setSince] = useState<Since>('hour');
  const [time, setTime] = useState('');
  const at = instantSince(since, time, new Date());
  const takeBack = async () => {
    if (at === null) return;
    onNo();
    const done = await ask<{ undone: number; left: string[] }>(
      `/api/boards/${me.board}/history/take-back?as=${me.role}`,
      { method: 'POST', json: { link: link.id, since: at } },
    );
    if (done.ok) await onDone(null, [undoneWords(done.value.undone), ...done.value.left]);
    else await onDone(done.sentence, []);
  };
  return (
    <Asking
      title={`Take back what this link for the ${roleWords[link.role]} wrote?`}
      yes="Take it back"
      no="Leave it as it is"
      onNo={onNo}
      onYes={() => void takeBack()}
    >
      <Choice
        label="All that it wrote"
        value={since}
        onChange={(event) => setSince(event.target.value as Since)}
      >
        <option value="hour">in the last hour</option>
        <option value="today">today</option>
        <option value="time">since a day and time</option>
      </Choice>
      {since === 'time' ? (
        <TextField
          label="Since"
          type="datetime-local"
          required
          value={time}
          onChange={(event) => setTime(event.target.value)}
        />
      ) : null}
      <p>
        {at === null ? 'Please choose a day and time that is past.' : `That is since ${instantWords(at)}.`} In
        all parts of the board, and with it what links wrote that were made with this one. What others wrote
        stays; where they built on it, you are told what was left.
      </p>
    </Asking>
  );
}

/** Where the reader is; null for no time, or one to come. */
function instantSince(since: Since, time: string, now: Date): Instant | null {
  if (since === 'hour') return instantOf(new Date(now.getTime() - HOUR_MS));
  const at = since === 'today' ? new Date(now.getFullYear(), now.getMonth(), now.getDate()) : new Date(time);
  return Number.isNaN(at.getTime()) || at > now ? null : instantOf(at);
}

const undoneWords = (undone: number): string =>
  undone === 0
    ? 'Nothing was taken back.'
    : undone === 1
      ? 'One change was taken back.'
      : `${undone} changes were taken back.`;
