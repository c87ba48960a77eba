'use client';

import dynamic from 'next/dynamic';
import { useState } from 'react';
import { type AnswerState, isSaid } from '@/lib/core/agreed/answerState.ts';
import { copyProblem, copyStanding } from '@/lib/core/agreed/copy.ts';
import { djPrinted } from '@/lib/core/agreed/djPrinted.ts';
import { factsThatDiffer } from '@/lib/core/agreed/entry.ts';
import { currentDigest, type Plays, playedEdit } from '@/lib/core/agreed/played.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import { laterPart } from '../_client/laterParts.ts';
import { newId } from '../_client/newId.ts';
import { useBoard } from '../_client/room.tsx';
import { useMyName } from '../_notes/myName.ts';
import { nowAfter } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { DraftField } from '../_ui/draftField.tsx';
import { Changed, ChangedSince } from './changedSince.tsx';
import { useSeen } from './useSeen.ts';

/** Comes when something else is to be said than yes. */
const Suggest = dynamic(
  laterPart(async () => (await import('./suggest.tsx')).Suggest),
  { ssr: false },
);

/** Yes, exactly this; or something else. */
export function DjWord({ state, plays }: { state: AnswerState; plays: Plays }) {
  const { board } = useBoard('board');
  const { plan } = board;
  const { change, problem } = useChanging('answer');
  const [name, setName] = useMyName();
  const [suggesting, setSuggesting] = useState(false);
  const now = { digest: currentDigest(plan) ?? '', edit: playedEdit(plan), covers: djPrinted(board, plays) };
  // Once a yes does not hold any more, this panel tells all that has changed since: they begin to look at that.
  const about = `${plays}/${isSaid(state)}`;
  const seen = useSeen(now, ({ digest, covers }) => `${digest}/${covers.digest}`, about);
  if (now.digest === '') return null;
  const before = [...(board.answer?.answers ?? []), ...(plan.asked ? [plan.asked] : [])].map(({ at }) => at);
  const say = (kind: 'yes' | 'proposal', words: string, proposal: Edit | null): boolean =>
    seen.tap(() =>
      change(
        { register: 'plays', value: plays },
        {
          collection: 'answers',
          id: newId(),
          fields: { kind, at: nowAfter(before), by: name, plays, ...now, words, proposal },
        },
      ),
    );
  const changed = seen.before ? (
    <ChangedSince differs={factsThatDiffer(seen.before.covers.facts, now.covers.facts)} night />
  ) : null;
  if (suggesting)
    return (
      <>
        {changed}
        <Suggest
          plays={plays}
          onSuggest={(words, proposal) => {
            const done = say('proposal', words, proposal);
            if (done) setSuggesting(false);
            return done;
          }}
          onClose={() => setSuggesting(false)}
        />
      </>
    );
  const beside = state.kind === 'yes to other facts';
  return (
    <div className="mt-4">
      <Said state={state} copy={copyProblem(copyStanding(board))} />
      {beside ? <Changed head="Changed since your yes:" differs={state.differs} night /> : null}
      {changed}
      <p className="no-print flex flex-wrap gap-3">
        {isSaid(state) ? null : (
          <Button
            look="night-main"
            once
            data-does="answer"
            className="min-h-12! px-6! text-lg!"
            onClick={() => say('yes', '', null)}
          >
            {beside ? 'Yes, to this too' : 'Yes, exactly this'}
          </Button>
        )}
        <Button look="night" className="min-h-12!" onClick={() => setSuggesting(true)}>
          I’d suggest something else
        </Button>
      </p>
      <div className="no-print mt-4 max-w-60 [&_label]:text-night-soft">
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

/** What they have said. @param copy what is wrong with their copy, as the end of a sentence */
function Said({ state, copy }: { state: AnswerState; copy: string }) {
  const { kind, answer } = state;
  if (isSaid(state)) {
    const yes = answer?.kind === 'yes';
    return (
      <div className="mb-4 border-l-[3px] border-night-ink pl-3 font-serif text-xl">
        <p>
          {yes ? 'You said yes to exactly this.' : 'Your suggestion is what is planned now.'}
          {yes && kind === 'yes' ? ' Thank you.' : ''}
        </p>
        {kind === 'yes, copy does not fit' ? (
          <p className="text-night-wine">
            But your copy {copy}. <a href="#copy">Check the right file</a>, or play the finished file.
          </p>
        ) : null}
      </div>
    );
  }
  if (kind !== 'proposal open') return null;
  return (
    <p className="mb-4 border-l-[3px] border-night-ink pl-3">
      Your suggestion is with the couple and their instructor. Until they reply, what stands here is the plan.
    </p>
  );
}
