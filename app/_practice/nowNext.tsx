'use client';

import { Count } from './count.tsx';
import { Fitted } from './fitted.tsx';
import type { Following, Moment } from './followed.ts';
import { nowWords, words } from './words.ts';

/**
 * What is danced now with its counts running, and what comes next, in how many bars and on which word: as large as its box lets
 * it, above each other where that is high and beside each other where it is wide. The box has a size of its own.
 * @param lead what stands in place of the count while the music has not begun, or is counted in
 */
export function NowNext({
  moment,
  follow,
  lead = null,
}: {
  moment: Moment;
  follow: Following;
  lead?: string | null;
}) {
  return (
    <div className="h-full min-h-0 [container-type:size]">
      <div className="grid h-full grid-cols-[minmax(0,1fr)] grid-rows-[minmax(0,1fr)_minmax(0,1.1fr)] gap-x-[2cqw] [@container_(orientation:landscape)]:grid-cols-[minmax(0,1fr)_minmax(0,1fr)] [@container_(orientation:landscape)]:grid-rows-[minmax(0,1fr)]">
        <Now moment={moment} lead={lead} follow={follow} />
        <Next moment={moment} />
      </div>
    </div>
  );
}

/** Shares of the window's height that words take at most. */
const MOST = 0.26;

const label = 'text-base leading-tight text-night-soft';

function Now({ moment, lead, follow }: { moment: Moment; lead: string | null; follow: Following }) {
  const heard = moment.heard || moment.section;
  const { name, times } = nowWords(moment.dancing);
  return (
    <section aria-label={words.now} className="flex min-h-0 min-w-0 flex-col">
      <div className="flex min-h-0 basis-[35%] items-stretch gap-x-4 [@container_(orientation:landscape)]:basis-[34%]">
        <div className="flex min-w-0 flex-1 flex-col">
          <p className={label}>{words.now}</p>
          <Fitted
            words={heard}
            most={0.12}
            className={`flex flex-1 items-center leading-[1.05] ${moment.heard ? 'sung' : 'font-serif text-night-soft'}`}
          >
            <p dir="auto" className="min-w-0 text-left" data-heard>
              <span className="sr-only">{words.heard} </span>
              {heard}
            </p>
          </Fitted>
        </div>
        <p
          data-count
          className="self-center font-serif leading-[0.8] text-[min(44cqw,19cqh)] [@container_(orientation:landscape)]:text-[min(20cqw,38cqh)]"
        >
          {lead ?? <Count moment={moment} />}
        </p>
      </div>
      <Ticks moment={moment} bar={follow.score.countsPerBar} />
      <Fitted words={`${name} ${times}`} most={MOST} className="flex-1 pt-1 leading-[1.02] font-semibold">
        <p dir="auto" className="text-left" data-now>
          {name}
          {times ? <span className="text-[0.5em] font-normal text-night-soft"> {times}</span> : null}
        </p>
      </Fitted>
    </section>
  );
}

function Next({ moment: { coming } }: { moment: Moment }) {
  return (
    <section
      aria-label={words.next}
      className="relative flex min-h-0 min-w-0 flex-col border-t border-night-rule pt-3 [@container_(orientation:landscape)]:border-t-0 [@container_(orientation:landscape)]:border-l [@container_(orientation:landscape)]:pt-0 [@container_(orientation:landscape)]:pl-[2cqw]"
    >
      <p
        className={`absolute -top-3 left-0 bg-night pr-2 [@container_(orientation:landscape)]:sr-only ${label}`}
      >
        {words.next}
      </p>
      {coming ? (
        <Fitted
          words={coming.when}
          most={MOST}
          className="h-[12.5cqh] shrink-0 overflow-hidden leading-none whitespace-nowrap text-night-soft [@container_(orientation:landscape)]:h-[21cqh]"
        >
          <p data-when>{coming.when}</p>
        </Fitted>
      ) : null}
      {coming?.on ? (
        <Fitted
          words={coming.on}
          most={MOST}
          className="sung flex flex-[0.45] items-center pr-1 leading-[1.05] [@container_(orientation:landscape)]:flex-[0.28]"
        >
          <p dir="auto" className="min-w-0 text-left" data-on>
            <span className="sr-only">{words.on} </span>“{coming.on}”
          </p>
        </Fitted>
      ) : null}
      <Fitted
        words={coming ? `${coming.name} ${coming.times}` : words.toTheEnd}
        most={MOST}
        className="flex-1 leading-[1.02] font-semibold"
      >
        <p dir="auto" className="text-left" data-next>
          {coming?.name ?? words.toTheEnd}
          {coming?.times ? (
            <span className="text-[0.5em] font-normal text-night-soft"> {coming.times}</span>
          ) : null}
        </p>
      </Fitted>
    </section>
  );
}

/** Counts of one move that are shown; of what is longer, and of the basic, those of the bar. */
const MOST_TICKS = 24;

/** The counts of what is danced, a mark each, bars parted: the eye sees how much of it is left. */
function Ticks({ moment: { within, dancing }, bar }: { moment: Moment; bar: number }) {
  if (!within || !dancing) return <p aria-hidden="true" className="h-3" />;
  const isWhole = dancing.kind === 'move' && within.of <= MOST_TICKS;
  const of = isWhole ? within.of : Math.min(bar, within.of);
  const at = isWhole ? within.at : within.at % bar;
  return (
    <p aria-hidden="true" className="flex h-3 items-end gap-1">
      {Array.from({ length: of }, (_, i) => (
        <span
          // biome-ignore lint/suspicious/noArrayIndexKey: counts of one move, in order
          key={i}
          className={`flex-1 ${i % bar === 0 && i > 0 ? 'ml-2' : ''} ${i === at ? 'h-3 bg-night-ink' : i < at ? 'h-1 bg-night-soft' : 'h-1 bg-night-rule'}`}
        />
      ))}
    </p>
  );
}
