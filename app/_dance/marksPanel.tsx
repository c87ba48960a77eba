import { type FormEvent, useId, useState } from 'react';
import { markedState, planAt } from '@/lib/core/areas/marks.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { planDifferences } from '@/lib/core/areas/planDifferences.ts';
import { newId } from '../_client/newId.ts';
import { useMyName } from '../_notes/myName.ts';
import { instantWords, nowInstant } from '../_studio/dates.ts';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { useDesk } from './desk.tsx';
import { Differences } from './differences.tsx';
import { GoBack } from './goBack.tsx';

type Mark = Plan['marks'][number];

/** Named states of song and dance: to keep one, to look at it on the sheet, to go back to it. */
export function MarksPanel() {
  const { plan } = useDesk();
  const latestFirst = [...plan.marks].sort((a, b) => b.at.localeCompare(a.at));
  return (
    <div className="max-w-3xl space-y-4 pb-2">
      <NewMark />
      {latestFirst.length === 0 ? (
        <p className="text-soft">
          A mark keeps song and dance as they are now. You can look at it later, and go back to it.
        </p>
      ) : (
        <ul className="border-t border-rule">
          {latestFirst.map((mark) => (
            <MarkLine key={mark.id} mark={mark} />
          ))}
        </ul>
      )}
    </div>
  );
}

function NewMark() {
  const { plan, change } = useDesk();
  const [by] = useMyName();
  const [name, setName] = useState('');
  const keep = (event: FormEvent) => {
    event.preventDefault();
    const fields = { name: name.trim(), at: nowInstant(), by, state: markedState(plan) };
    if (fields.name) change([{ collection: 'marks', id: newId(), fields }], { done: () => setName('') });
  };
  return (
    <form onSubmit={keep} className="flex flex-wrap items-baseline gap-3">
      <div className="min-w-48 flex-1">
        <TextField
          label="Name for how it is now"
          placeholder="After lesson 2"
          value={name}
          maxLength={80}
          onChange={({ target }) => setName(target.value)}
        />
      </div>
      <Button type="submit" disabled={name.trim() === ''}>
        Keep this mark
      </Button>
    </form>
  );
}

function MarkLine({ mark }: { mark: Mark }) {
  const { plan, change, lookAt } = useDesk();
  const id = useId();
  const then = planAt(plan, mark.state);
  const since = then ? planDifferences(then, plan) : null;
  return (
    <li aria-labelledby={id} className="border-b border-rule py-2">
      <p>
        <bdi id={id} className="font-serif text-xl">
          {mark.name}
        </bdi>{' '}
        <span className="text-soft">
          {instantWords(mark.at)}, <bdi>{mark.by}</bdi>
        </span>
      </p>
      {since === null ? (
        <p className="text-soft">This mark was made by another version and cannot be shown.</p>
      ) : (
        <Since words={since} />
      )}
      <p className="-ml-2 flex flex-wrap">
        {then ? (
          <>
            <Button look="quiet" className="px-2!" onClick={() => lookAt(mark.id)}>
              Look at it
            </Button>
            <GoBack then={then} />
          </>
        ) : null}
        <Button
          look="quiet"
          className="px-2!"
          onClick={() => change([{ collection: 'marks', id: mark.id, fields: null }])}
        >
          Take this mark away
        </Button>
      </p>
    </li>
  );
}

function Since({ words }: { words: string[] }) {
  if (words.length === 0) return <p className="text-soft">Nothing has changed since.</p>;
  return (
    <details>
      <summary className="min-h-11 content-center">
        {words.length === 1 ? 'One change since' : `${words.length} changes since`}
      </summary>
      <Differences words={words} />
    </details>
  );
}
