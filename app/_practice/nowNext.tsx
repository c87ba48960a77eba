'use client';

import '@fontsource/sofia-sans-extra-condensed/600.css';
import { readAcross } from '@/lib/core/handover/danced.ts';
import { Count } from './count.tsx';
import { Fitted } from './fitted.tsx';
import type { Following, Moment } from './followed.ts';
import { nowWords, words } from './words.ts';

// Its letters come with the program and not with the first name, which may be danced where there is no network.
if (typeof document !== 'undefined')
  document.fonts.load('600 1em "Sofia Sans Extra Condensed"').catch(() => undefined);

/** Shares of the window's height that words take at most. */
const MOST = 0.26;
/**
 * Px of names that are read from three metres. Capitals of 16 minutes of arc, the least for Latin letters (ISO 9241-303, from
 * memory), are 14 mm high there. A phone has some 6.1 CSS px a mm: 390 x 844 of them on a screen of 6 inches. The capitals of the
 * narrow face are .655 of its size: 130 px, and a little for the fitting.
 */
const FROM_AFAR = 134;

/**
 * What is danced now with its counts running, and below it what comes next, in how many bars and on which word, as large as its box
 * lets it. The box has a size of its own; the names take most of it, and where it is wider than high the figures stand beside them.
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
    // Clipped, so that letters tried too large bring no scrollbars, which would leave less room while they are measured.
    <div className="h-full min-h-0 overflow-hidden [container-type:size]">
      <div className="grid h-full grid-cols-[minmax(0,1fr)] grid-rows-2 lying:grid-rows-[minmax(0,1.1fr)_minmax(0,1fr)]">
        <Now moment={moment} lead={lead} follow={follow} />
        <Next moment={moment} />
      </div>
    </div>
  );
}

const label = 'text-base leading-tight text-night-soft';
/** Of what stands beside the names, where there is room beside them. */
const BESIDE = 'lying:col-start-2 lying:row-start-1 lying:w-[19cqw]';

function Now({ moment, lead, follow }: { moment: Moment; lead: string | null; follow: Following }) {
  const heard = moment.heard || moment.section;
  const { name, times } = nowWords(moment.dancing);
  return (
    <section
      aria-label={words.now}
      className="grid min-h-0 min-w-0 grid-cols-[minmax(0,1fr)_auto] grid-rows-[14.5cqh_auto_minmax(0,1fr)] gap-x-3 lying:grid-rows-[minmax(0,1fr)_auto_37cqh]"
    >
      <div className="flex min-h-0 min-w-0 items-stretch gap-x-3">
        <p className={`self-center ${label}`}>{words.now}</p>
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
        className={`self-center font-serif leading-[0.8] text-[min(44cqw,18cqh)] lying:row-span-3 lying:text-center lying:text-[min(19cqw,40cqh)] ${BESIDE}`}
      >
        {lead ?? <Count moment={moment} />}
      </p>
      <div className="col-span-2 lying:col-span-1">
        <Ticks moment={moment} bar={follow.score.countsPerBar} />
      </div>
      <Name name={name} times={times} mark="data-now" className="col-span-2 lying:col-span-1" />
    </section>
  );
}

function Next({ moment: { coming } }: { moment: Moment }) {
  return (
    <section
      aria-label={words.next}
      className="relative flex min-h-0 min-w-0 flex-col border-t border-night-rule pt-2 lying:grid lying:grid-cols-[minmax(0,1fr)_auto] lying:grid-rows-[minmax(0,1fr)_37cqh] lying:gap-x-3 lying:pt-0"
    >
      <p className={`absolute -top-3 left-0 bg-night pr-2 lying:sr-only ${label}`}>{words.next}</p>
      {coming ? (
        <Fitted
          words={coming.when}
          most={MOST}
          className={`flex h-[9cqh] shrink-0 items-center font-narrow leading-[0.92] font-semibold text-night-soft lying:row-span-2 lying:h-auto lying:justify-center ${BESIDE}`}
        >
          <p data-when className="lying:text-center">
            {coming.when}
          </p>
        </Fitted>
      ) : null}
      {coming?.on ? (
        <Fitted
          words={coming.on}
          most={MOST}
          className="sung flex h-[8cqh] shrink-0 items-center pr-1 leading-[1.05] lying:col-start-1 lying:row-start-1 lying:h-auto"
        >
          <p dir="auto" className="min-w-0 text-left" data-on>
            <span className="sr-only">{words.on} </span>“{coming.on}”
          </p>
        </Fitted>
      ) : null}
      <Name
        name={coming?.name ?? words.toTheEnd}
        times={coming?.times ?? ''}
        mark="data-next"
        className="flex-1 lying:col-start-1 lying:row-start-2"
      />
    </section>
  );
}

/** What to call a move by, in letters that are read from afar; how often, and the rest of a long name, in smaller ones. */
function Name({
  name,
  times,
  mark,
  className,
}: {
  name: string;
  times: string;
  mark: 'data-now' | 'data-next';
  className: string;
}) {
  const { call, rest } = readAcross(name);
  const small = [rest, times].filter(Boolean).join(' ');
  return (
    <Fitted
      words={`${call} ${small}`}
      most={MOST}
      afar={FROM_AFAR}
      className={`pt-1 font-narrow leading-[0.92] font-semibold ${className}`}
    >
      <p dir="auto" className="origin-left text-left" {...{ [mark]: '' }}>
        {call}
        {small ? (
          <span data-spare className="text-[0.42em] text-night-soft">
            {' '}
            {small}
          </span>
        ) : null}
      </p>
    </Fitted>
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
