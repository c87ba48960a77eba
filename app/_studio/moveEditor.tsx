'use client';

import { type FormEvent, type ReactNode, useState } from 'react';
import { caution, dance, danceHold, type Move, position } from '@/lib/core/dance/move.ts';
import { Button } from '../_ui/button.tsx';
import { Choice, TextArea, TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { moveFrom } from './moveForm.ts';

const feet = ['either', 'left', 'right'];
const options = (words: readonly string[]) => words.map((word) => <option key={word}>{word}</option>);

/** One move's form. What most moves need is open; the rest folds. */
export function MoveEditor({
  from,
  onKeep,
  onClose,
}: {
  from: Omit<Move, 'id'>;
  onKeep: (move: Omit<Move, 'id'>) => Promise<string | null>;
  onClose: () => void;
}) {
  const [problem, setProblem] = useState<string | null>(null);
  const keep = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const made = moveFrom(new FormData(event.currentTarget), from);
    setProblem(made.ok ? await onKeep(made.value) : made.problem.sentence);
  };
  return (
    <form onSubmit={keep} className="border-l-[3px] border-ink py-2 pl-5">
      <Row>
        <TextField label="Name" name="name" defaultValue={from.name} required maxLength={80} autoFocus />
        <Choice label="Dance" name="dance" defaultValue={from.dance}>
          {options(dance.options)}
        </Choice>
        <Choice label="Metre" name="metre" defaultValue={String(from.metre)}>
          <option value="0">any</option>
          <option value="3">in three</option>
          <option value="4">in four</option>
        </Choice>
        <Choice label="Difficulty" name="difficulty" defaultValue={String(from.difficulty)}>
          <option value="1">easy</option>
          <option value="2">some practice</option>
          <option value="3">much practice</option>
        </Choice>
      </Row>
      <Row>
        <Figure label="Counts" name="counts" value={from.counts} min={1} max={64} />
        <Figure label="Starts on count" name="startsOn" value={from.startsOn} min={1} max={16} />
        <Figure
          label="Led before it"
          hint="Counts, during the basic."
          name="preparation"
          value={from.preparation}
          min={0}
          max={16}
        />
        <Figure
          label="Lands on count"
          hint="For a pose; else leave it empty."
          name="landsOn"
          value={from.landsOn ?? ''}
          min={1}
          max={64}
          required={false}
        />
      </Row>
      <Row>
        <TextField label="Said as" name="rhythm" defaultValue={from.rhythm} maxLength={80} />
        <Choice label="Dance hold before" name="holdBefore" defaultValue={from.holdBefore}>
          {options(danceHold.options)}
        </Choice>
        <Choice label="Dance hold after" name="holdAfter" defaultValue={from.holdAfter}>
          {options(danceHold.options)}
        </Choice>
        <Choice label="Counted in" name="level" defaultValue={from.level}>
          <option value="beat">beats</option>
          <option value="subdivision">parts of a beat</option>
          <option value="half">every second beat</option>
        </Choice>
      </Row>
      <div className="mt-4 grid items-baseline gap-4 sm:grid-cols-2">
        <TextArea label="The lead" name="lead" defaultValue={from.lead} maxLength={300} rows={2} />
        <TextArea label="The follow" name="follow" defaultValue={from.follow} maxLength={300} rows={2} />
      </div>
      <details className="mt-4">
        <summary className="min-h-11 py-2 font-semibold">Feet, room, pace and cautions</summary>
        <Row>
          <Choice label="The lead’s free foot before" name="footBefore" defaultValue={from.footBefore}>
            {options(feet)}
          </Choice>
          <Choice label="The lead’s free foot after" name="footAfter" defaultValue={from.footAfter}>
            {options(feet)}
          </Choice>
          <Choice
            label="The follow’s before"
            name="followFootBefore"
            defaultValue={from.followFootBefore ?? ''}
          >
            <option value="">the other foot</option>
            {options(feet)}
          </Choice>
          <Choice label="The follow’s after" name="followFootAfter" defaultValue={from.followFootAfter ?? ''}>
            <option value="">the other foot</option>
            {options(feet)}
          </Choice>
          <Choice label="They stand before" name="positionBefore" defaultValue={from.positionBefore ?? ''}>
            <option value="">not said</option>
            {options(position.options)}
          </Choice>
          <Choice label="They stand after" name="positionAfter" defaultValue={from.positionAfter ?? ''}>
            <option value="">not said</option>
            {options(position.options)}
          </Choice>
          <Figure label="Room, metres across" name="room" value={from.room} min={0} max={20} step={0.1} />
          <Figure
            label="Least seconds a count"
            name="leastSeconds"
            value={from.leastSeconds}
            min={0.1}
            max={5}
            step={0.05}
          />
        </Row>
        <div className="mt-4 flex flex-wrap gap-x-6">
          <Tick name="basic" words="is the basic of its dance" on={from.basic} />
          <Tick name="travels" words="travels" on={from.travels} />
          <Tick name="repeats" words="may follow itself at once" on={from.repeats} />
        </div>
        <fieldset className="mt-3">
          <legend className="text-sm text-soft">Cautions to show</legend>
          <div className="flex flex-wrap gap-x-6">
            {caution.options.map((word) => (
              <Tick key={word} name="cautions" value={word} words={word} on={from.cautions.includes(word)} />
            ))}
          </div>
        </fieldset>
        <div className="mt-3 grid items-baseline gap-4 sm:grid-cols-2">
          <TextField
            label="Safer form"
            hint="What to dance instead, for a dip or a lift."
            name="saferForm"
            defaultValue={from.saferForm}
            maxLength={200}
          />
          <TextField
            label="Where its length comes from"
            name="source"
            defaultValue={from.source}
            maxLength={200}
          />
        </div>
      </details>
      {problem ? (
        <div className="mt-4">
          <Notice kind="wrong">{problem}</Notice>
        </div>
      ) : null}
      <p className="mt-5 flex flex-wrap gap-3">
        <Button type="submit" look="main">
          Keep this move
        </Button>
        <Button look="quiet" onClick={onClose}>
          Leave it as it was
        </Button>
      </p>
    </form>
  );
}

const Row = ({ children }: { children: ReactNode }) => (
  <div className="mt-4 grid grid-cols-2 items-baseline gap-4 lg:grid-cols-4">{children}</div>
);

function Figure({
  value,
  required = true,
  ...rest
}: {
  label: string;
  hint?: string;
  name: string;
  value: number | '';
  min: number;
  max: number;
  step?: number;
  required?: boolean;
}) {
  return <TextField type="number" inputMode="decimal" defaultValue={value} required={required} {...rest} />;
}

function Tick({ name, value, words, on }: { name: string; value?: string; words: string; on: boolean }) {
  return (
    <label className="flex min-h-11 items-center gap-2">
      <input type="checkbox" name={name} value={value} defaultChecked={on} className="size-6 accent-ink" />
      {words}
    </label>
  );
}
