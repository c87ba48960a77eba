'use client';

import { useState } from 'react';
import type { Remarks } from '@/lib/core/areas/remarks.ts';
import { useRoom } from '../_client/room.tsx';
import { instantWords } from '../_studio/dates.ts';
import { Asking } from '../_ui/asking.tsx';
import { Button } from '../_ui/button.tsx';
import { useChanging } from '../_ui/changing.ts';
import { DraftField } from '../_ui/draftField.tsx';
import { Choice } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { Rich } from '../_ui/rich.tsx';
import { hasWords, RichView } from '../_ui/richView.tsx';
import { roleWords } from '../_ui/roles.ts';
import { aboutWords } from './about.ts';
import { useMyName } from './myName.ts';

type Remark = Remarks['remarks'][number];

/** One remark: who, when, about what; its writer may change it or take it back, and the instructor may remove any. */
export function RemarkNote({
  remark,
  mine,
  mayRemove,
  writing,
  onWrite,
}: {
  remark: Remark;
  mine: boolean;
  /** Also where it is somebody else's. */
  mayRemove: boolean;
  writing: boolean;
  onWrite: (yes: boolean) => void;
}) {
  const { change, problem } = useChanging('remarks');
  const [asking, setAsking] = useState(false);
  const remove = () => {
    if (writing) onWrite(false);
    change({ collection: 'remarks', id: remark.id, fields: null });
  };
  return (
    <li className="border-b border-rule py-4">
      <article aria-label={`Remark of ${remark.name}`}>
        <p className="flex flex-wrap items-baseline gap-x-3">
          <strong className="font-serif text-xl font-medium">{remark.name}</strong>
          <span className="text-soft">
            {roleWords[remark.role]}
            {remark.about ? `, about ${aboutWords[remark.about]}` : ''} · {instantWords(remark.at)}
          </span>
        </p>
        {mine && writing ? (
          <Writing
            remark={remark}
            onSet={(fields) => change({ collection: 'remarks', id: remark.id, fields })}
            onDone={() => (hasWords(remark.text) ? onWrite(false) : remove())}
          />
        ) : (
          <div className="mt-2">
            <RichView text={remark.text} empty="Nothing was written." />
          </div>
        )}
        {problem ? <Notice kind="wrong">{problem}</Notice> : null}
        {(mine || mayRemove) && !writing ? (
          <p className="-ml-2 mt-1 flex">
            {mine ? (
              <Button look="quiet" className="px-2!" onClick={() => onWrite(true)}>
                Change
              </Button>
            ) : null}
            <Button
              look="quiet"
              className="px-2!"
              aria-label={mine ? undefined : `Remove the remark of ${remark.name}`}
              onClick={() => setAsking(true)}
            >
              {mine ? 'Take back' : 'Remove'}
            </Button>
          </p>
        ) : null}
      </article>
      {asking ? (
        <Asking
          title={mine ? 'Take this remark back?' : `Remove this remark of ${remark.name}?`}
          yes={mine ? 'Take it back' : 'Remove it'}
          onNo={() => setAsking(false)}
          onYes={() => {
            setAsking(false);
            remove();
          }}
        >
          <p>It disappears for everybody. They may have read it already.</p>
          {mine ? null : (
            <p>To have it back, open the remarks as of an earlier hour: under Links, then History.</p>
          )}
        </Asking>
      ) : null}
    </li>
  );
}

function Writing({
  remark,
  onSet,
  onDone,
}: {
  remark: Remark;
  onSet: (fields: Partial<Pick<Remark, 'about' | 'name'>>) => void;
  onDone: () => void;
}) {
  const fragment = useRoom().text('remarks', remark.id);
  const [, setMyName] = useMyName();
  return (
    <div className="mt-3">
      <div className="mb-3 grid gap-4 sm:grid-cols-2">
        <Choice
          label="About"
          value={remark.about}
          onChange={(event) => onSet({ about: event.target.value as Remark['about'] })}
        >
          {Object.entries(aboutWords).map(([about, words]) => (
            <option key={about} value={about}>
              {words}
            </option>
          ))}
        </Choice>
        <DraftField
          label="Signed"
          value={remark.name}
          maxLength={80}
          onKeep={(name) => {
            const signed = name.trim();
            if (!signed) return;
            setMyName(signed);
            onSet({ name: signed });
          }}
        />
      </div>
      {fragment ? (
        <Rich fragment={fragment} label="Your remark" placeholder="What should the others know?" focus />
      ) : null}
      <p className="mt-3">
        <Button look="main" onClick={onDone}>
          Done
        </Button>
      </p>
    </div>
  );
}
