'use client';

import { useState } from 'react';
import { type AnswerState, currentDigest, playedEdit } from '@/lib/core/agreed/answerState.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import { newId } from '../_client/newId.ts';
import { useBoard } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { nowAfter } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { DraftField } from '../_ui/draftField.tsx';
import { Suggest } from './suggest.tsx';

/** Yes, exactly this; or something else. */
export function DjWord({ state, plays }: { state: AnswerState; plays: 'finished file' | 'own copy' }) {
  const { board } = useBoard('board');
  const { plan } = board;
  const { change, problem } = useChanging('answer');
  const [name, setName] = useMyName();
  const [suggesting, setSuggesting] = useState(false);
  const digest = currentDigest(plan);
  if (digest === null) return null;
  const before = [...(board.answer?.answers ?? []), ...(plan.asked ? [plan.asked] : [])].map(({ at }) => at);
  const say = (kind: 'yes' | 'proposal', words: string, proposal: Edit | null): boolean =>
    change(
      { register: 'plays', value: plays },
      {
        collection: 'answers',
        id: newId(),
        fields: {
          kind,
          at: nowAfter(before),
          by: name,
          plays,
          digest,
          edit: playedEdit(plan),
          words,
          proposal,
        },
      },
    );
  const said = state.kind === 'yes' || state.kind === 'accepted';
  if (suggesting)
    return (
      <Suggest
        plays={plays}
        onSuggest={(words, proposal) => {
          const done = say('proposal', words, proposal);
          if (done) setSuggesting(false);
          return done;
        }}
        onClose={() => setSuggesting(false)}
      />
    );
  return (
    <div className="mt-4">
      {said ? (
        <p className="mb-4 border-l-[3px] border-night-ink pl-3 font-serif text-xl">
          {state.kind === 'yes'
            ? 'You said yes to exactly this. Thank you.'
            : 'Your suggestion is what is planned now.'}
        </p>
      ) : null}
      {state.kind === 'proposal open' ? (
        <p className="mb-4 border-l-[3px] border-night-ink pl-3">
          Your suggestion is with the couple and their instructor. Until they reply, what stands here is the
          plan.
        </p>
      ) : null}
      <p className="flex flex-wrap gap-3">
        {said ? null : (
          <Button look="night-main" className="min-h-12! px-6! text-lg!" onClick={() => say('yes', '', null)}>
            Yes, exactly this
          </Button>
        )}
        <Button look="night" className="min-h-12!" onClick={() => setSuggesting(true)}>
          I’d suggest something else
        </Button>
      </p>
      <div className="mt-4 max-w-60 [&_label]:text-night-soft">
        <DraftField label="Signed" maxLength={80} value={name} onKeep={(typed) => setName(typed.trim())} />
      </div>
      {problem ? (
        <p role="alert" className="mt-3 text-night-wine">
          {problem}
        </p>
      ) : null}
    </div>
  );
}
