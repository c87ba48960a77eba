import { type FormEvent, useState } from 'react';
import { cautionWords } from '@/lib/core/dance/cautions.ts';
import { caution, danceHold } from '@/lib/core/dance/move.ts';
import { newId } from '../_client/newId.ts';
import { Button } from '../_ui/button.tsx';
import { Choice, TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { useDesk } from './desk.tsx';
import { type MoveForm, ownMove } from './ownMove.ts';

/** A move of one's own, put on this board. */
export function OwnMoveForm() {
  const { plan, change } = useDesk();
  const [problem, setProblem] = useState('');
  const [cautions, setCautions] = useState<string[]>([]);
  if (!plan.grid) return null;
  const grid = plan.grid;
  const submit = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const made = ownMove(readForm(new FormData(form)), grid);
    setProblem(made.ok ? '' : made.sentence);
    if (!made.ok) return;
    change([{ collection: 'moves', id: newId(), fields: made.move }], {
      done() {
        form.reset();
        setCautions([]);
      },
    });
  };
  return (
    <form onSubmit={submit} className="space-y-3 pb-3">
      <div className="grid items-baseline gap-3 @md:grid-cols-2 @4xl:grid-cols-4">
        <TextField label="Name" name="name" maxLength={80} />
        <TextField label="Counts it takes" name="counts" inputMode="numeric" defaultValue="6" />
        <TextField label="Counts it is led before" name="preparation" inputMode="numeric" defaultValue="3" />
        <TextField label="Lands on its count" name="landsOn" inputMode="numeric" hint="Only for a pose" />
        <HoldChoice label="Dance hold before" name="holdBefore" />
        <HoldChoice label="Dance hold after" name="holdAfter" />
        <TextField label="Room it needs, m" name="room" inputMode="decimal" defaultValue="2" />
        <Choice label="Difficulty" name="difficulty">
          <option value="1">easy</option>
          <option value="2">needs practice</option>
          <option value="3">demanding</option>
        </Choice>
        <TextField label="What the lead does" name="lead" maxLength={300} />
        <TextField label="What the follow does" name="follow" maxLength={300} />
      </div>
      <div className="flex flex-wrap gap-x-6">
        <Tick name="repeats" label="may follow itself at once" />
        <Tick name="travels" label="travels along the floor" />
      </div>
      <fieldset>
        <legend className="text-sm text-soft">It is, or needs care for</legend>
        <div className="flex flex-wrap gap-x-6">
          {caution.options.map((name) => (
            <Tick
              key={name}
              name="cautions"
              value={name}
              label={`a ${name}`.replace('a floor', 'the floor').replace('a dress', 'the dress')}
              onChange={(on) =>
                setCautions((before) => (on ? [...before, name] : before.filter((one) => one !== name)))
              }
            />
          ))}
        </div>
        <ul className="mt-1 max-w-2xl space-y-1">
          {caution.options
            .filter((name) => cautions.includes(name))
            .map((name) => (
              <li key={name} className="border-l-[3px] border-wine pl-3">
                {cautionWords[name]}
              </li>
            ))}
        </ul>
      </fieldset>
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
      <Button type="submit" look="main">
        Add it to the board
      </Button>
    </form>
  );
}

function HoldChoice({ label, name }: { label: string; name: string }) {
  return (
    <Choice label={label} name={name}>
      {danceHold.options.map((hold) => (
        <option key={hold}>{hold}</option>
      ))}
    </Choice>
  );
}

export function Tick({
  label,
  onChange,
  ...rest
}: {
  label: string;
  name?: string;
  value?: string;
  checked?: boolean;
  onChange?(on: boolean): void;
}) {
  return (
    <label className="flex min-h-11 items-center gap-2">
      <input
        type="checkbox"
        className="size-5 accent-ink"
        onChange={(event) => onChange?.(event.target.checked)}
        {...rest}
      />
      {label}
    </label>
  );
}

function readForm(data: FormData): MoveForm {
  const text = (name: string) => String(data.get(name) ?? '');
  return {
    name: text('name'),
    counts: text('counts'),
    preparation: text('preparation'),
    landsOn: text('landsOn'),
    holdBefore: text('holdBefore'),
    holdAfter: text('holdAfter'),
    lead: text('lead'),
    follow: text('follow'),
    room: text('room'),
    difficulty: text('difficulty'),
    repeats: data.has('repeats'),
    travels: data.has('travels'),
    cautions: data.getAll('cautions').map(String),
  };
}
