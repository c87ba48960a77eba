import { useId, useMemo, useState } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { clock } from '@/lib/core/units.ts';
import { usePlan } from '../_client/room.tsx';
import { HearEdit } from '../_song/hearEdit.tsx';
import { JoinHandle, MoveJoin } from '../_song/moveJoin.tsx';
import { type SongChange, useSongChange } from '../_song/useSongChange.tsx';
import { type Fold, leftOutRows } from './folds.ts';

/** What is left out, folded and hatched; opening it shows its rows greyed, at their times of the recording. */
export function FoldStrip({ fold, plan }: { fold: Fold; plan: Plan }) {
  const [open, setOpen] = useState(false);
  const id = useId();
  const { join } = fold;
  const change = useSongChange();
  const index = join ? (plan.edit?.cuts.findIndex(({ to }) => to === fold.to) ?? -1) : -1;
  return (
    <div className="md:ml-[11.5rem] xl:mr-[20.5rem] xl:ml-[12rem]">
      <button
        type="button"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
        className="relative flex min-h-11 w-full flex-wrap items-center justify-between gap-x-4 px-3 text-left text-[0.95rem]"
      >
        <Hatch />
        <span className="relative bg-paper px-1.5 text-soft">
          <span aria-hidden="true">{open ? '▾ ' : '▸ '}</span>
          {fold.words}
        </span>
        {join ? (
          <span className={`relative bg-paper px-1.5 ${join.clean ? 'text-soft' : 'text-wine'}`}>
            {join.words}
          </span>
        ) : null}
      </button>
      {index >= 0 && change.may ? (
        <div className="no-print flex flex-wrap justify-between gap-x-4">
          <JoinHandle index={index} side="from" change={change} />
          <JoinHandle index={index} side="to" change={change} />
        </div>
      ) : null}
      {change.words}
      <div id={id}>
        {open ? (
          <div className="unfolds">
            <LeftOut fold={fold} plan={plan} />
            {index >= 0 ? <JoinTools index={index} change={change} /> : null}
          </div>
        ) : null}
      </div>
    </div>
  );
}

/** Drawn, and no ground of the button: the device's own colours take that away. */
function Hatch() {
  const id = useId();
  return (
    <svg className="absolute inset-0 size-full" aria-hidden="true" data-hatch="">
      <pattern id={id} width="8" height="8" patternUnits="userSpaceOnUse">
        <path d="M-1 9 L9 -1" className="stroke-edge" strokeWidth={1} opacity={0.6} />
      </pattern>
      <rect width="100%" height="100%" fill={`url(#${id})`} />
    </svg>
  );
}

/** To hear the join, and to move it. */
function JoinTools({ index, change }: { index: number; change: SongChange }) {
  const plan = usePlan();
  return (
    <div className="flex flex-wrap items-baseline gap-x-6 gap-y-2 border-l border-rule py-2 pl-3">
      {change.may ? <MoveJoin index={index} change={change} /> : null}
      <HearEdit edit={plan.edit ?? wholeSong} />
    </div>
  );
}

function LeftOut({ fold, plan }: { fold: Fold; plan: Plan }) {
  const rows = useMemo(() => leftOutRows(plan, fold), [plan, fold]);
  const most = Math.max(...rows.map(({ bars }) => bars));
  if (rows.length === 0) return <p className="px-3 py-2 text-soft">No phrases are known in this part.</p>;
  return (
    <ol className="border-l border-rule py-1 pl-3 text-soft" aria-label="What is left out">
      {rows.map((row) => (
        <li key={row.id} className="flex items-baseline gap-3 py-1">
          <span className="w-24 shrink-0 text-sm">{row.opens ? row.section : ''}</span>
          <span className="w-12 shrink-0 text-sm">{clock(row.at)}</span>
          <span className="sung w-32 min-w-0 shrink text-lg leading-tight break-words">
            {row.word || '(no word)'}
          </span>
          <Bars bars={row.bars} most={most} />
        </li>
      ))}
      <li className="pt-1 text-sm">Times of the recording in full. None of this is played.</li>
    </ol>
  );
}

/** A greyed ruler: a tick a bar. */
function Bars({ bars, most }: { bars: number; most: number }) {
  const ticks = Array.from({ length: bars }, (_, i) => `M${i} 2 V10`).join(' ');
  return (
    <svg
      viewBox={`0 0 ${most} 12`}
      preserveAspectRatio="none"
      className="h-3 min-w-0 flex-1 overflow-visible"
      role="img"
      aria-label={`${bars} ${bars === 1 ? 'bar' : 'bars'}`}
    >
      <path
        d={`${ticks} M0 10 H${bars}`}
        className="fill-none stroke-edge"
        strokeWidth={1}
        vectorEffect="non-scaling-stroke"
      />
    </svg>
  );
}
