import { useEffect, useRef } from 'react';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import { choosable } from '@/lib/core/dance/kinds.ts';
import { laidOut, moveBy } from '@/lib/core/dance/place.ts';
import { setFirstStep } from '@/lib/core/dance/walkOn.ts';
import { clock } from '@/lib/core/units.ts';
import { newId } from '../_client/newId.ts';
import { said } from '../_sheet/said.ts';
import { Button } from '../_ui/button.tsx';
import { CautionNote } from './cautionNote.tsx';
import { useDesk } from './desk.tsx';
import { landOn, nothing, putOnCount, timesBy } from './hand.ts';
import { HowItGoes } from './moveFacts.tsx';
import { desk as words } from './words.ts';

/** What is in hand, and all that can be done with it without mouse or keys. */
export function InHand() {
  const { hand } = useDesk();
  if (hand.kind === 'nothing') return null;
  return (
    <div className="pt-2 pb-2">
      {hand.kind === 'placed' ? <Placed id={hand.id} /> : null}
      {hand.kind === 'count' ? <Here at={hand.at} /> : null}
      {hand.kind === 'move' || hand.kind === 'first step' || hand.kind === 'landing' ? <ToPut /> : null}
    </div>
  );
}

function LetGo() {
  const { take } = useDesk();
  return (
    <Button look="quiet" className="-mr-2 shrink-0 px-2!" onClick={() => take(nothing)}>
      {words.letGo}
    </Button>
  );
}

/** Somebody else took away what is in hand. */
function Gone({ said }: { said: string }) {
  return (
    <div className="flex items-center justify-between gap-3" role="status">
      <p>{said}</p>
      <LetGo />
    </div>
  );
}

/** Something waits for a count. */
function ToPut() {
  const { hand, plan } = useDesk();
  const line = useRef<HTMLParagraphElement>(null);
  // The button that took it has gone with its panel; whoever pressed it by key is led on to the counts.
  useEffect(() => {
    if (document.activeElement === document.body) line.current?.focus({ preventScroll: true });
  }, []);
  const move = hand.kind === 'move' ? plan.moves.find(({ id }) => id === hand.move) : undefined;
  if (hand.kind === 'move' && !move) return <Gone said={words.noMove} />;
  const what = move?.name ?? (hand.kind === 'landing' ? words.closingPose : words.firstStep);
  return (
    <div className="space-y-1">
      <div className="flex items-baseline justify-between gap-3" role="status">
        <p ref={line} tabIndex={-1} className="min-w-0 leading-snug outline-none">
          {words.toPut(what)}
        </p>
        <LetGo />
      </div>
      {move ? <CautionNote move={move} /> : null}
    </div>
  );
}

const steps = [
  ['phrase', -1, 'a phrase earlier', '‹ phrase'],
  ['bar', -1, 'a bar earlier', '‹ bar'],
  ['count', -1, 'a count earlier', '‹ count'],
  ['count', 1, 'a count later', 'count ›'],
  ['bar', 1, 'a bar later', 'bar ›'],
  ['phrase', 1, 'a phrase later', 'phrase ›'],
] as const;

/** A placed move: where it lies, how often, what it is. */
function Placed({ id }: { id: string }) {
  const { plan, score, change, take } = useDesk();
  const laid = laidOut(plan, score).find((one) => one.id === id);
  if (!laid) return <Gone said={words.notPlaced} />;
  const count = score.counts[laid.at]!;
  return (
    <div className="space-y-1">
      <div className="flex items-baseline justify-between gap-3">
        <p className="min-w-0 leading-snug">
          <span className="font-semibold">{laid.move.name}</span>, at {clock(count.floor, 1)} on count{' '}
          {said(score, count)}, {laid.counts} counts
        </p>
        <LetGo />
      </div>
      <div className="flex flex-wrap gap-1 sm:gap-2">
        {steps.map(([unit, by, spoken, short]) => (
          <Button
            key={spoken}
            aria-label={spoken}
            className="max-sm:px-2.5"
            onClick={() => change(moveBy(plan, score, id, unit, by) as PlanChange[])}
          >
            {short}
          </Button>
        ))}
        <Button
          className="max-sm:px-2.5"
          disabled={laid.times === 1}
          onClick={() => change(timesBy(plan, id, -1) as PlanChange[])}
        >
          less often
        </Button>
        <Button
          className="max-sm:px-2.5"
          disabled={timesBy(plan, id, 1).length === 0}
          onClick={() => change(timesBy(plan, id, 1) as PlanChange[])}
        >
          {laid.times === 1 ? 'twice' : 'once more'}
        </Button>
        <Button
          look="quiet"
          className="-mr-2 ml-auto px-2!"
          onClick={() => {
            change([{ collection: 'placed', id, fields: null }], { done: () => take(nothing) });
          }}
        >
          take it away
        </Button>
      </div>
      <HowItGoes move={laid.move} open={laid.move.cautions.length > 0} />
    </div>
  );
}

/** A chosen count: what can begin here. */
function Here({ at }: { at: number }) {
  const { plan, score, change, take } = useDesk();
  const count = score.counts[at];
  if (!count) return null;
  const moves = choosable(plan.moves, plan.grid);
  const place = (move: string) => {
    const done = putOnCount(plan, score, { kind: 'move', move }, at, newId);
    change(done.changes as PlanChange[], { done: () => take(done.hand) });
  };
  const settle = (changes: readonly PlanChange[]) => {
    change(changes, { done: () => take(nothing) });
  };
  return (
    <div className="space-y-1">
      <div className="flex items-baseline justify-between gap-3">
        <p className="min-w-0 leading-snug">
          Here, at {clock(count.floor, 1)} on count {said(score, count)}:
        </p>
        <LetGo />
      </div>
      <div className="flex flex-wrap gap-1 sm:gap-2">
        {moves.map((move) => (
          <Button key={move.id} onClick={() => place(move.id)}>
            {move.name}
          </Button>
        ))}
      </div>
      <div className="-ml-2 flex flex-wrap gap-x-2">
        <Button
          look="quiet"
          className="px-2!"
          onClick={() => settle(setFirstStep(plan, score, at) as PlanChange[])}
        >
          first step here
        </Button>
        <Button
          look="quiet"
          className="px-2!"
          onClick={() => settle(landOn(plan, score, at) as PlanChange[])}
        >
          closing pose here
        </Button>
      </div>
    </div>
  );
}
