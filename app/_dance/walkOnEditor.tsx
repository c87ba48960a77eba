import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { WalkOn } from '@/lib/core/dance/move.ts';
import { planWalkOn, setFirstStep, usualWalkOn } from '@/lib/core/dance/walkOn.ts';
import { clock } from '@/lib/core/units.ts';
import { said } from '../_sheet/said.ts';
import { Button } from '../_ui/button.tsx';
import { DraftField } from '../_ui/draftField.tsx';
import { Choice } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { deskPlace } from '../_ui/stageWays.ts';
import { useDesk } from './desk.tsx';
import { NumberField } from './numberField.tsx';

/** How the couple come on, and on which count they begin to dance. */
export function WalkOnEditor() {
  const { plan, score, change, take } = useDesk();
  const walk = plan.walkOn ?? usualWalkOn;
  const set = (part: Partial<WalkOn>) => change([{ register: 'walkOn', value: { ...walk, ...part } }]);
  const planned = planWalkOn(plan, score);
  const walks = walk.how !== 'in place';
  return (
    <div className="space-y-3 pb-2">
      <div className="grid items-baseline gap-3 @md:grid-cols-2 @4xl:grid-cols-4">
        <Choice
          label="How they begin"
          value={walk.how}
          onChange={(event) => set({ how: event.target.value as WalkOn['how'] })}
        >
          <option value="walk on">walk on from the edge</option>
          <option value="in place">already in place</option>
          <option value="from the entrance">straight from the entrance</option>
        </Choice>
        {walks ? (
          <DraftField
            label="From"
            hint="A landmark, such as the garden door"
            value={walk.from}
            maxLength={120}
            onKeep={(from) => set({ from: from.trim() })}
          />
        ) : null}
        {walks ? (
          <NumberField
            label="Metres to walk"
            value={walk.metres}
            least={0}
            most={60}
            onKeep={(metres) => set({ metres })}
          />
        ) : null}
        {walks ? (
          <NumberField
            label="Pace, metres a second"
            hint="1.3 is an easy walk"
            value={walk.pace}
            least={0.3}
            most={2}
            onKeep={(pace) => set({ pace })}
          />
        ) : null}
        <NumberField
          label="Seconds to take hold"
          value={walk.takeHold}
          least={0}
          most={30}
          onKeep={(takeHold) => set({ takeHold })}
        />
        <DraftField
          label="Who gives the signal to start"
          value={walk.signal}
          maxLength={200}
          onKeep={(signal) => set({ signal })}
        />
        <DraftField
          label="Last words before the music"
          value={walk.lastWords}
          maxLength={200}
          onKeep={(lastWords) => set({ lastWords })}
        />
      </div>
      {planned.ok ? (
        <FirstStep
          planned={planned.value}
          setOn={walk.firstStep !== null}
          onPropose={() => change(setFirstStep(plan, score, planned.value.proposed) as PlanChange[])}
          onChoose={() => {
            take({ kind: 'first step' });
          }}
        />
      ) : (
        <Notice kind="wrong">{planned.problem.sentence}</Notice>
      )}
    </div>
  );
}

function FirstStep({
  planned,
  setOn,
  onPropose,
  onChoose,
}: {
  planned: Extract<ReturnType<typeof planWalkOn>, { ok: true }>['value'];
  setOn: boolean;
  onPropose(): void;
  onChoose(): void;
}) {
  const { score } = useDesk();
  const { seconds, counts, firstStep, proposed, firstStepAt, comeOnAt, missing, words } = planned;
  const proposal = score.counts[proposed]!;
  return (
    <div className="space-y-2">
      <p className="sung text-xl leading-snug">
        Walking and taking hold take {seconds.toFixed(1)} s, {counts} counts: come on at {clock(comeOnAt)},
        first step at {clock(firstStepAt)} on count {said(score, score.counts[firstStep]!)}.
      </p>
      {missing > 0.05 ? (
        <Notice kind="wrong">
          That is {missing.toFixed(1)} s too short: walk less far, or take the first step later.
        </Notice>
      ) : null}
      <div className="flex flex-wrap gap-2">
        {setOn && firstStep === proposed ? null : (
          <Button data-does={deskPlace('walk-on')} onClick={onPropose}>
            {setOn ? 'Take' : 'Keep'} the proposal: {clock(proposal.floor)}
          </Button>
        )}
        <Button onClick={onChoose}>Choose the count on the sheet</Button>
      </div>
      <p className="text-soft">Why there: {words}</p>
    </div>
  );
}
