'use client';

import { useMemo, useRef, useState } from 'react';
import type { Finding, Fix } from '@/lib/core/checks/finding.ts';
import { ofFloor } from '@/lib/core/checks/floorRules.ts';
import {
  type Floor,
  newThing,
  type Thing,
  withCornerAfter,
  withCornerAt,
  withThing,
} from '@/lib/core/dance/floor.ts';
import type { Spot } from '@/lib/core/dance/outline.ts';
import { floorPlanOf } from '@/lib/core/handover/floorPlan.ts';
import type { Me } from '../_client/boardState.ts';
import { newId } from '../_client/newId.ts';
import { useBoard, useRoom } from '../_client/room.tsx';
import { MarginNotes } from '../_sheet/marginNotes.tsx';
import { WholeStrip } from '../_sheet/wholeStrip.tsx';
import { BoardFrame } from '../_ui/boardFrame.tsx';
import { Button } from '../_ui/button.tsx';
import { Notice } from '../_ui/notice.tsx';
import { BeginFields } from './beginFields.tsx';
import { scaleOf } from './drawn.ts';
import { PlanDrawing } from './planDrawing.tsx';
import { CornerFields, SizeForm } from './shapeFields.tsx';
import { ThingFields } from './thingFields.tsx';
import { ToldPlan } from './toldPlan.tsx';
import { useBox } from './useBox.ts';
import { useFloor } from './useFloor.ts';
import { useNow } from './useNow.ts';
import { type Held, usePointing } from './usePointing.ts';
import { words } from './words.ts';

/** What waits for a place on the plan. */
export type ToPut = Thing['kind'] | 'begin';

/** The floor: drawn by whoever plans it, and on it the dance, for everybody to look at. */
export function FloorScreen(_: { me: Me }) {
  const { floor, keep, problem, may } = useFloor();
  return (
    <BoardFrame player wide>
      <h2 className="text-2xl md:text-3xl">{words.title}</h2>
      {floor ? (
        <Drawn floor={floor} keep={keep} problem={problem} may={may} />
      ) : (
        <div className="mt-3 max-w-md space-y-4">
          <p className="text-lg">{may ? words.none : words.noneToRead}</p>
          {may ? <SizeForm floor={null} onKeep={keep} /> : null}
          {problem ? <Notice kind="wrong">{problem}</Notice> : null}
        </div>
      )}
    </BoardFrame>
  );
}

function Drawn({
  floor: kept,
  keep,
  problem,
  may,
}: {
  floor: Floor;
  keep: (floor: Floor, done?: () => void) => void;
  problem: string;
  may: boolean;
}) {
  const { board, score } = useBoard('board', 'score');
  const room = useRoom();
  const mayBegin = room.mayWrite('plan');
  const svg = useRef<SVGSVGElement>(null);
  const now = useRef<SVGGElement>(null);
  const [putting, setPutting] = useState<ToPut | null>(null);
  const [shaping, setShaping] = useState(false);
  const [refused, setRefused] = useState(false);
  const plan = useMemo(() => floorPlanOf(board, score), [board, score]);
  const begin = (at: Spot) => {
    const facing = plan?.begins.facing ?? 4;
    const spot = { x: Math.round(at.x * 10) / 10, y: Math.round(at.y * 10) / 10 };
    room.change('plan', [{ register: 'beginsAt', value: { ...spot, facing } }]);
  };
  /** What nothing comes of was refused: sides would cross. */
  const shape = (next: Floor) => {
    setRefused(next === kept);
    keep(next);
  };
  const onDrop = (held: Held, at: Spot) => {
    const next = moved(kept, held, at);
    if ('corner' in held) shape(next);
    else keep(next);
  };
  const [box, width] = useBox();
  const scale = useMemo(() => (width > 0 ? scaleOf(kept, width) : null), [kept, width]);
  const dragged = usePointing(svg, {
    ...{ scale, putting: putting !== null, may: putting === 'begin' ? mayBegin : may },
    onPut(at) {
      if (putting === 'begin') begin(at);
      else if (putting) keep(withThing(kept, newThing(newId(), putting, kept, at)));
      setPutting(null);
    },
    onSide: (side) => shape(withCornerAfter(kept, side)),
    onDrop,
  });
  const floor = dragged ? moved(kept, dragged.held, dragged.at) : kept;
  useNow(now, plan, score, scale);
  return (
    <div className="mt-2 grid gap-x-12 gap-y-8 lg:grid-cols-[minmax(0,1fr)_24rem]">
      <div className="min-w-0 space-y-3">
        {score && plan ? (
          <div className="no-print">
            <WholeStrip plan={board.plan} score={score} onGo={() => {}} onEnter={() => {}} />
          </div>
        ) : null}
        {putting ? (
          <p role="status" className="no-print flex flex-wrap items-center gap-x-4">
            {words.tap(putting === 'begin' ? words.begins : words.put[putting])}
            {putting === 'begin' ? null : (
              <Button
                onClick={() => {
                  keep(withThing(kept, newThing(newId(), putting, kept)));
                  setPutting(null);
                }}
              >
                {words.byNumbers}
              </Button>
            )}
            <Button look="quiet" onClick={() => setPutting(null)}>
              {words.letGo}
            </Button>
          </p>
        ) : null}
        <div ref={box}>
          {scale ? <PlanDrawing {...{ floor, scale, plan, svg, now }} handles={shaping && may} /> : null}
        </div>
        {plan ? <ToldPlan plan={plan} /> : <p className="text-soft">{words.noCounts}</p>}
      </div>
      <div className="no-print min-w-0 space-y-8">
        {problem || refused ? <Notice kind="wrong">{problem || words.refused}</Notice> : null}
        <Notes />
        {plan ? <BeginFields plan={plan} mayWrite={mayBegin} onPut={() => setPutting('begin')} /> : null}
        {may ? (
          <>
            <ThingFields floor={kept} onKeep={keep} onPut={setPutting} />
            <section className="space-y-3">
              <h3 className="text-xl">{words.size}</h3>
              <SizeForm key={`${kept.width} ${kept.depth}`} floor={kept} onKeep={keep} />
              <Button aria-pressed={shaping} onClick={() => setShaping(!shaping)}>
                {shaping ? words.dragging : words.drag}
              </Button>
              <CornerFields floor={kept} onKeep={shape} />
            </section>
          </>
        ) : null}
        <Button onClick={() => window.print()}>{words.print}</Button>
      </div>
    </div>
  );
}

const moved = (floor: Floor, held: Held, at: Spot): Floor => {
  if ('corner' in held) return withCornerAt(floor, held.corner, at);
  const thing = floor.things?.find(({ id }) => id === held.thing);
  return thing ? withThing(floor, { ...thing, ...at }) : floor;
};

/** What the checks say of the floor, each with what settles it. */
function Notes() {
  const { checked, isChecked } = useBoard('checked', 'isChecked');
  const room = useRoom();
  const section = useRef<HTMLElement>(null);
  const notes = checked ? ofFloor(checked.findings) : null;
  const fix = ({ changes }: Fix, note: Finding) =>
    room.change('plan', changes, {
      way: 'suggestion',
      about: [note.id.slice(note.rule.length + 1)],
      // The button goes with its note.
      done: () => section.current?.focus(),
    });
  return (
    <section ref={section} tabIndex={-1} aria-busy={!isChecked} className="outline-none">
      <h3 className="mb-1 text-xl">{words.notes}</h3>
      {notes === null ? (
        <p className="text-soft">{words.looking}</p>
      ) : notes.length === 0 ? (
        <p className="text-soft">{words.fits}</p>
      ) : (
        <MarginNotes
          notes={notes}
          mayBeFixed={checked?.mayBeFixed ?? NO_RULES}
          most={notes.length}
          onFix={room.mayWrite('plan') ? fix : null}
          isBusy={room.mayWrite('plan') ? notBusy : null}
        />
      )}
    </section>
  );
}

const notBusy = () => false;
const NO_RULES: ReadonlySet<string> = new Set();
