'use client';

import { useState } from 'react';
import { type Floor, sized } from '@/lib/core/dance/floor.ts';
import { useFloor } from '../_floor/useFloor.ts';
import { Button } from '../_ui/button.tsx';
import { TextField } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';

/** The floor is one thing: its size and what is on it are kept together. */
export function FloorFields() {
  const { floor, keep: keepFloor, problem, may } = useFloor();
  const [editing, setEditing] = useState(false);
  const keep = (form: FormData) => {
    const word = (name: string) => String(form.get(name) ?? '').trim();
    const metres = (name: string) => Number(word(name).replace(',', '.'));
    const said = { surface: word('surface'), obstacles: word('obstacles'), guests: word('guests') };
    const value = { ...sized(floor, metres('width'), metres('depth')), ...said };
    keepFloor(value, () => setEditing(false));
  };
  return (
    <div className="mt-8">
      <h4 className="text-xl font-semibold">The floor</h4>
      {editing ? (
        <FloorForm floor={floor} onKeep={keep} onClose={() => setEditing(false)} />
      ) : (
        <>
          <p className={floor ? '' : 'text-soft'}>
            {floor ? floorWords(floor) : 'Nobody has said yet how large it is.'}
          </p>
          {may ? (
            <Button look="quiet" className="-ml-2 px-2!" onClick={() => setEditing(true)}>
              {floor ? 'Change the floor' : 'Describe the floor'}
            </Button>
          ) : null}
        </>
      )}
      {problem ? <Notice kind="wrong">{problem}</Notice> : null}
    </div>
  );
}

function FloorForm({
  floor,
  onKeep,
  onClose,
}: {
  floor: Floor | null;
  onKeep: (form: FormData) => void;
  onClose: () => void;
}) {
  return (
    <form
      className="mt-2 grid grid-cols-2 items-baseline gap-4"
      onSubmit={(event) => {
        event.preventDefault();
        onKeep(new FormData(event.currentTarget));
      }}
    >
      <Metres label="Width, metres" name="width" value={floor?.width} />
      <Metres label="Depth, metres" name="depth" value={floor?.depth} />
      <div className="col-span-2 grid gap-4">
        <TextField
          label="Surface"
          name="surface"
          maxLength={300}
          defaultValue={floor?.surface}
          placeholder="e.g. oak parquet, dry"
        />
        <TextField
          label="In the way"
          name="obstacles"
          maxLength={300}
          defaultValue={floor?.obstacles}
          placeholder="e.g. a pillar by the stage, cables"
        />
        <TextField
          label="Where the guests are"
          name="guests"
          maxLength={300}
          defaultValue={floor?.guests}
          placeholder="e.g. on three sides, stage on the fourth"
        />
      </div>
      <p className="col-span-2 flex gap-3">
        <Button type="submit" look="main">
          Keep this
        </Button>
        <Button look="quiet" onClick={onClose}>
          Not now
        </Button>
      </p>
    </form>
  );
}

function Metres({ label, name, value }: { label: string; name: string; value: number | undefined }) {
  return <TextField label={label} name={name} inputMode="decimal" required defaultValue={value} />;
}

const floorWords = ({ width, depth, surface, obstacles, guests }: Floor): string =>
  [`${width} × ${depth} m`, surface, obstacles, guests && `guests ${guests}`].filter(Boolean).join(' · ');
