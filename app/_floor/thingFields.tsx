import { type Floor, type Thing, withoutThing, withThing } from '@/lib/core/dance/floor.ts';
import { KINDS } from '@/lib/core/dance/floorWords.ts';
import { NumberField } from '../_dance/numberField.tsx';
import { Button } from '../_ui/button.tsx';
import { DraftField } from '../_ui/draftField.tsx';
import { putWords, words } from './words.ts';

/** What is on the floor and around it, in words and numbers; a tap on the plan puts more there. */
export function ThingFields({
  floor,
  onKeep,
  onPut,
}: {
  floor: Floor;
  onKeep: (floor: Floor) => void;
  onPut: (kind: Thing['kind']) => void;
}) {
  const things = floor.things ?? [];
  return (
    <section className="space-y-3">
      <h3 className="text-xl">{words.things}</h3>
      <div className="flex flex-wrap gap-2">
        {putWords.map(([kind, name]) => (
          <Button key={kind} onClick={() => onPut(kind)}>
            {name}
          </Button>
        ))}
      </div>
      {things.length === 0 ? <p className="text-soft">{words.noThings}</p> : null}
      <ul className="space-y-4">
        {things.map((thing) => (
          <li key={thing.id}>
            <ThingRow
              thing={thing}
              onChange={(part) => onKeep(withThing(floor, { ...thing, ...part }))}
              onTake={() => onKeep(withoutThing(floor, thing.id))}
            />
          </li>
        ))}
      </ul>
    </section>
  );
}

function ThingRow({
  thing,
  onChange,
  onTake,
}: {
  thing: Thing;
  onChange: (part: Partial<Thing>) => void;
  onTake: () => void;
}) {
  const { kind, name, x, y, across } = thing;
  return (
    <fieldset className="border-l-2 border-rule pl-3">
      <legend className="sr-only">{KINDS[kind]}</legend>
      <div className="grid grid-cols-[1fr_auto] items-baseline gap-2">
        <DraftField
          label={`${words.put[kind]}, ${words.name.toLowerCase()}`}
          value={name}
          maxLength={60}
          onKeep={(called) => onChange({ name: called.trim() })}
        />
        <Button look="quiet" className="px-2!" aria-label={words.takeAway(thing)} onClick={onTake}>
          Remove
        </Button>
      </div>
      <div className="mt-1 grid grid-cols-3 items-baseline gap-2">
        <NumberField
          label={words.fromLeft}
          value={x}
          least={-100}
          most={200}
          onKeep={(value) => onChange({ x: value })}
        />
        <NumberField
          label={words.fromFront}
          value={y}
          least={-100}
          most={200}
          onKeep={(value) => onChange({ y: value })}
        />
        {kind === 'pillar' ? (
          <NumberField
            label={words.across}
            value={across}
            least={0}
            most={10}
            onKeep={(value) => onChange({ across: value })}
          />
        ) : null}
      </div>
      {kind === 'guests' || kind === 'band' ? <p className="text-sm text-soft">{words.side}</p> : null}
    </fieldset>
  );
}
