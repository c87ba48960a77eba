'use client';

import { useState } from 'react';
import type { AnswerState } from '@/lib/core/agreed/answerState.ts';
import { newId } from '../_client/newId.ts';
import { useBoard } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { nowAfter } from '../_studio/dates.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';

/** Accepting makes the DJ's suggestion the edit, in the same step; declining leaves the plan as it is. */
export function ReplyToDj({ state }: { state: AnswerState }) {
  const { settled } = useBoard().board.plan;
  const { change, problem } = useChanging('plan');
  const [name] = useMyName();
  const [asking, setAsking] = useState(false);
  const { answer, differs } = state;
  if (!answer?.proposal) return null;
  const { proposal } = answer;
  const reply = (accepted: boolean) => ({
    collection: 'replies' as const,
    id: newId(),
    fields: { answer: answer.id, accepted, at: nowAfter([answer.at]), by: name },
  });
  const accept = () => {
    setAsking(false);
    change(reply(true), { register: 'edit', value: proposal }, { register: 'settled', value: null });
  };
  return (
    <div className="mt-3">
      {differs.length > 0 ? (
        <ul className="list-disc space-y-1 pl-5">
          {differs.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      ) : null}
      <p className="mt-2 text-night-soft">
        Accepting makes it your edit. Moves and closing pose are then checked anew.
      </p>
      <p className="mt-4 flex flex-wrap gap-3">
        <Button look="night-main" onClick={() => (settled ? setAsking(true) : accept())}>
          Accept it
        </Button>
        <Button look="night" onClick={() => change(reply(false))}>
          Decline it
        </Button>
      </p>
      {problem ? (
        <p role="alert" className="mt-3 text-night-wine">
          {problem}
        </p>
      ) : null}
      {asking && settled ? (
        <Asking
          title={`${settled.by} has settled song and edit.`}
          yes="Accept it all the same"
          no="Leave it settled"
          onYes={accept}
          onNo={() => setAsking(false)}
        >
          {settled.word ? <p className="sung text-lg">“{settled.word}”</p> : null}
          <p>Accepting the suggestion changes the edit, and it is no longer settled.</p>
        </Asking>
      ) : null}
    </div>
  );
}
