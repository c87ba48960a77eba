import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { DraftField } from '../_ui/draftField.tsx';
import { Choice } from '../_ui/field.tsx';
import * as words from './words.ts';

type Outfit = NonNullable<Plan['outfit']>;
type Worn = keyof Outfit;
const WORN = Object.keys(words.worn) as Worn[];

/** What is worn at the dance and changes how it is danced, and who stands by at lifts. */
export function OutfitFields({ plan, onKeep }: { plan: Plan; onKeep: (change: PlanChange) => void }) {
  const { outfit } = plan;
  const wear = (worn: Worn, state: Outfit[Worn]) =>
    onKeep({
      register: 'outfit',
      value: { train: 'none', veil: 'none', shoes: 'none', ...outfit, [worn]: state },
    });
  return (
    <>
      <div className="sm:col-span-2">
        <h4 className="text-xl font-semibold">{words.title}</h4>
        <p className="text-soft">{words.why}</p>
      </div>
      {WORN.map((worn) => (
        <Choice
          key={worn}
          label={words.worn[worn]}
          value={outfit?.[worn] ?? ''}
          onChange={({ target }) => wear(worn, target.value as Outfit[Worn])}
        >
          {outfit ? null : <option value="">{words.notSet}</option>}
          {Object.entries(words.states).map(([state, said]) => (
            <option key={state} value={state}>
              {said}
            </option>
          ))}
        </Choice>
      ))}
      <DraftField
        label={words.spotter}
        hint={words.spotterHint}
        maxLength={120}
        autoComplete="off"
        value={plan.spotter ?? ''}
        onKeep={(spotter) => onKeep({ register: 'spotter', value: spotter.trim() || null })}
      />
    </>
  );
}
