'use client';

import type { AnswerState } from '@/lib/core/agreed/answerState.ts';
import { newId } from '../_client/newId.ts';
import { useMyName } from '../_notes/myName.ts';
import { nowAfter } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';

/** Accepting makes the DJ's suggestion the edit, in the same step; declining leaves the plan as it is. */
export function ReplyToDj({ state }: { state: AnswerState }) {
  const { change, problem } = useChanging('plan');
  const [name] = useMyName();
  const { answer, differs } = state;
  if (!answer?.proposal) return null;
  const { proposal } = answer;
  const reply = (accepted: boolean) => ({
    collection: 'replies' as const,
    id: newId(),
    fields: { answer: answer.id, accepted, at: nowAfter([answer.at]), by: name },
  });
  const accept = () => change(reply(true), { register: 'edit', value: proposal });
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
      <p className="no-print mt-4 flex flex-wrap gap-3">
        <Button look="night-main" onClick={accept}>
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
    </div>
  );
}
