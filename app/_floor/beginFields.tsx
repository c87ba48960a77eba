import type { Beginning } from '@/lib/core/dance/floor.ts';
import { beginningWords, FACINGS } from '@/lib/core/dance/floorWords.ts';
import { usualStride } from '@/lib/core/dance/path.ts';
import type { FloorPlan } from '@/lib/core/handover/floorPlan.ts';
import { usePlan, useRoom } from '../_client/room.tsx';
import { NumberField } from '../_dance/numberField.tsx';
import { Button } from '../_ui/button.tsx';
import { Choice } from '../_ui/field.tsx';
import { words } from './words.ts';

/** Where the couple begin, how they face, and how long their step is. */
export function BeginFields({
  plan: { begins, isProposed },
  mayWrite,
  onPut,
}: {
  plan: FloorPlan;
  mayWrite: boolean;
  onPut: () => void;
}) {
  const { stride } = usePlan();
  const room = useRoom();
  const set = (part: Partial<Beginning>) =>
    room.change('plan', [{ register: 'beginsAt', value: { ...begins, ...part } }]);
  return (
    <section className="space-y-3">
      <h3 className="text-xl">{words.begins}</h3>
      {isProposed ? <p className="text-soft">{words.proposed}</p> : null}
      {mayWrite ? (
        <>
          <div className="flex flex-wrap gap-2">
            {isProposed ? <Button onClick={() => set({})}>{words.keep}</Button> : null}
            <Button onClick={onPut}>{words.putBegin}</Button>
          </div>
          <div className="grid grid-cols-2 items-baseline gap-3">
            <NumberField
              label={words.fromLeft}
              value={begins.x}
              least={-100}
              most={200}
              onKeep={(x) => set({ x })}
            />
            <NumberField
              label={words.fromFront}
              value={begins.y}
              least={-100}
              most={200}
              onKeep={(y) => set({ y })}
            />
            <Choice
              label={words.facing}
              value={begins.facing}
              onChange={(event) => set({ facing: Number(event.target.value) })}
            >
              {FACINGS.map((name, facing) => (
                <option key={name} value={facing}>
                  {name}
                </option>
              ))}
            </Choice>
            <NumberField
              label={words.stride}
              hint={words.strideHint(stride)}
              value={Math.round((stride ?? usualStride) * 100)}
              least={20}
              most={100}
              onKeep={(cm) => room.change('plan', [{ register: 'stride', value: Math.round(cm) / 100 }])}
            />
          </div>
        </>
      ) : (
        <p>{beginningWords(begins)}</p>
      )}
    </section>
  );
}
