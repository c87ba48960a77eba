'use client';

import { useRef, useState } from 'react';
import { type Edit, wholeSong } from '@/lib/core/edit/edit.ts';
import type { RecordTime } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { clearOfTop } from '../_ui/clearOf.ts';
import { EdgeHandle } from './edgeHandle.tsx';
import { edgesOf } from './edges.ts';
import { withCut } from './handEdit.ts';
import type { InHand } from './songBar.tsx';
import { useSongPlace } from './songSound.tsx';
import { Row } from './step.tsx';
import { momentOf, stripSections } from './strip.ts';
import { percent, StripPicture, useOutline } from './stripPicture.tsx';
import { type Marked, StripPlace } from './stripPlace.tsx';
import { strip as words } from './stripWords.ts';
import { useNameOf } from './useNameOf.ts';

/**
 * The whole recording at a glance, in sight on all of the page: sections by name and pattern, how loud it is, what is left out, where
 * it is playing. Pressed it plays from there; drawn over, that is left out.
 */
export function SongStrip({ change, stopsAt, stopAt }: InHand) {
  const plan = usePlan();
  const outline = useOutline();
  const box = useRef<HTMLDivElement>(null);
  const [drawn, setDrawn] = useState<Edit | null>(null);
  const [marked, setMarked] = useState<Marked | null>(null);
  const { recording, grid } = plan;
  const duration = recording?.duration ?? 0;
  const edit = plan.edit ?? wholeSong;
  const timeAt = (x: number): RecordTime => {
    const { left, width } = box.current!.getBoundingClientRect();
    return momentOf((x - left) / width, duration);
  };
  return (
    <section
      aria-label={words.name}
      ref={clearOfTop}
      data-covers=""
      className="sticky top-0 z-10 -mx-4 border-b border-rule bg-paper px-4 pt-1 md:-mx-10 md:px-10 short:static print:static"
    >
      <Row side={<Where marked={marked} stopsAt={stopsAt} />}>
        <Names />
        <div ref={box} className="relative h-11 md:h-14">
          <StripPicture plan={plan} edit={drawn ?? edit} outline={outline} />
          <Now />
          {marked ? <Mark {...marked} duration={duration} /> : null}
          {stopsAt === null ? null : <Mark from={stopsAt} to={stopsAt} duration={duration} />}
          <StripPlace
            timeAt={timeAt}
            marked={marked}
            mark={change.may && grid ? setMarked : null}
            leaveOut={(stretch) => {
              setMarked(null);
              const [from, to] =
                stretch.from < stretch.to ? [stretch.from, stretch.to] : [stretch.to, stretch.from];
              if (to > from) change.setEdit(withCut(edit, from, to, duration));
            }}
            onEscape={() => {
              setMarked(null);
              stopAt(null);
            }}
          />
        </div>
        {change.may && grid ? (
          <div className="relative h-8">
            {edgesOf(edit).map((edge) => (
              <EdgeHandle
                key={JSON.stringify(edge)}
                edge={edge}
                change={change}
                timeAt={timeAt}
                onDrawn={setDrawn}
              />
            ))}
          </div>
        ) : null}
      </Row>
      {change.words}
    </section>
  );
}

/** Where it is, or what is being done to the edit; of one line, so that nothing moves while it plays. */
function Where({ marked, stopsAt }: { marked: Marked | null; stopsAt: RecordTime | null }) {
  const name = useNameOf();
  const { at } = useSongPlace();
  const doing = marked
    ? words.leaves(
        Math.abs(marked.to - marked.from),
        name(Math.min(marked.from, marked.to)),
        name(Math.max(marked.from, marked.to)),
      )
    : stopsAt === null
      ? null
      : words.stops(name(stopsAt));
  return (
    <p
      role="status"
      className="h-6 truncate leading-6 md:h-22 md:whitespace-normal md:pt-4 md:leading-snug"
      aria-live={doing ? 'polite' : 'off'}
    >
      {doing ? <span className="font-semibold">{doing}</span> : <span className="text-soft">{name(at)}</span>}
    </p>
  );
}

/** The names where their sections begin; where one has no room it is in the line beside the strip as it plays. */
function Names() {
  const plan = usePlan();
  return (
    <div aria-hidden="true" className="relative h-5 overflow-hidden max-md:hidden">
      {stripSections(plan).map(({ id, name, from, to }) => (
        <span
          key={id}
          className="absolute truncate pr-1 text-sm leading-5 text-soft"
          style={{ left: percent(from), width: percent(to - from) }}
        >
          {name}
        </span>
      ))}
    </div>
  );
}

function Now() {
  const { recording } = usePlan();
  const { at } = useSongPlace();
  return (
    <div
      className="pointer-events-none absolute -inset-y-0.5 w-[3px] -translate-x-1/2 bg-ink"
      style={{ left: percent(Math.min(1, at / Math.max(recording?.duration ?? 1, 1))) }}
    />
  );
}

/** What would be left out, or where it stops. */
function Mark({ from, to, duration }: Marked & { duration: number }) {
  const left = Math.min(from, to);
  return (
    <div
      className="pointer-events-none absolute -inset-y-1 border-x-2 border-wine bg-wine/20"
      style={{ left: percent(left / duration), width: percent(Math.abs(to - from) / duration) }}
    />
  );
}
