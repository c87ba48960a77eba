'use client';

import { type PointerEvent, useId, useMemo } from 'react';
import { decodeFeatures } from '@/lib/core/song/features.ts';
import { clock, floorTime } from '@/lib/core/units.ts';
import { useStage } from '../_client/audio.ts';
import { usePlan } from '../_client/room.tsx';
import { usePlayer } from '../_practice/player.ts';
import { Button } from '../_ui/button.tsx';
import { Notice, Progress } from '../_ui/notice.tsx';
import { Patterns, patternOf } from './patterns.tsx';
import { type RecordSound, recordSound } from './recordSound.ts';
import { loudnessOutline, momentOf, type StripSection, stripGaps, stripSections } from './strip.ts';

/** Width and height of the drawing; it is stretched to the page. */
const [WIDTH, HEIGHT] = [1000, 64];

const hearFrom = (at: number) => {
  recordSound.seek(floorTime(at));
  void recordSound.play();
};

/** The whole recording at a glance: sections by name and pattern, how loud it is, what is left out, where it is playing. */
export function SongStrip({ sound }: { sound: RecordSound }) {
  const plan = usePlan();
  const { at, playing } = usePlayer(recordSound);
  const stage = useStage();
  const prefix = useId();
  const outline = useMemo(
    () => (plan.features ? loudnessOutline(decodeFeatures(plan.features), WIDTH, HEIGHT) : ''),
    [plan.features],
  );
  const duration = plan.recording?.duration ?? 0;
  const sections = stripSections(plan);
  const here = Math.min(1, (at ?? 0) / Math.max(duration, 1));
  const seekTo = (event: PointerEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    hearFrom(momentOf((event.clientX - box.left) / box.width, duration));
  };
  return (
    <section aria-labelledby="whole-song">
      <h2 id="whole-song" className="text-2xl">
        The whole song
      </h2>
      <div className="mt-3 overflow-x-clip">
        <svg
          viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
          preserveAspectRatio="none"
          className="block h-20 w-full cursor-pointer border-b border-edge"
          onPointerDown={seekTo}
          aria-hidden="true"
        >
          <Patterns prefix={prefix} />
          {sections.map((section) => (
            <rect
              key={section.id}
              x={section.from * WIDTH}
              width={(section.to - section.from) * WIDTH}
              height={HEIGHT}
              fill={patternOf(prefix, section.pattern)}
              className="stroke-edge"
              vectorEffect="non-scaling-stroke"
            />
          ))}
          <polygon points={outline} className="fill-ink/20" />
          {stripGaps(plan).map((gap) => (
            <g key={gap.from}>
              <rect
                x={gap.from * WIDTH}
                width={(gap.to - gap.from) * WIDTH}
                height={HEIGHT}
                className="fill-paper/80"
              />
              <rect
                x={gap.from * WIDTH}
                width={(gap.to - gap.from) * WIDTH}
                height={HEIGHT}
                fill={`url(#${prefix}-left-out)`}
              />
            </g>
          ))}
          <line
            x1={here * WIDTH}
            x2={here * WIDTH}
            y2={HEIGHT}
            className="stroke-ink"
            strokeWidth="3"
            vectorEffect="non-scaling-stroke"
          />
        </svg>
        <Names sections={sections} />
      </div>
      <div className="mt-2 flex flex-wrap items-center gap-x-4 gap-y-2">
        <Button onClick={() => recordSound.toggle()} disabled={sound.making}>
          {playing ? 'Pause' : 'Hear the recording'}
        </Button>
        <span>
          <span className="font-serif text-xl">{clock(at ?? 0, 1)}</span>
          <span className="text-soft"> of the recording</span>
        </span>
        <label className="flex min-h-11 min-w-40 flex-1 items-center">
          <span className="sr-only">Place in the recording</span>
          <input
            type="range"
            className="h-11 w-full accent-ink"
            min={0}
            max={Math.ceil(duration)}
            step={1}
            value={Math.round(at ?? 0)}
            aria-valuetext={clock(at ?? 0)}
            onChange={(event) => recordSound.seek(floorTime(Number(event.target.value)))}
          />
        </label>
        {plan.grid ? (
          <label className="flex min-h-11 items-center gap-2">
            <input
              type="checkbox"
              className="size-5 accent-ink"
              checked={sound.clicked}
              onChange={(event) => sound.setClicked(event.target.checked)}
            />
            with the counts clicked
          </label>
        ) : null}
      </div>
      {sound.making && stage ? <Progress what={`${stage.words}…`} share={stage.share ?? undefined} /> : null}
      {sound.problem ? <Notice kind="wrong">{sound.problem}</Notice> : null}
      <p className="mt-1 text-sm text-soft">
        The same pattern is the same music; what the edit leaves out is hatched in bold. Press a section to
        hear it.
      </p>
    </section>
  );
}

/** The names under their stretch; each plays from its beginning. On a narrow page they wrap into a list. */
function Names({ sections }: { sections: StripSection[] }) {
  return (
    <ul className="flex flex-wrap gap-x-1 md:flex-nowrap md:gap-0">
      {sections.map((section) => (
        <li
          key={section.id}
          className="min-w-0 md:shrink-0 md:basis-(--share)"
          style={{ ['--share' as string]: `${(section.to - section.from) * 100}%` }}
        >
          <button
            type="button"
            title={`${section.name}, ${clock(section.start)}`}
            onClick={() => hearFrom(section.start)}
            className="block min-h-11 w-full truncate px-1 text-left text-sm hover:bg-paper-2"
          >
            <span className="sr-only">Hear </span>
            {section.name} <span className="text-soft md:block">{clock(section.start)}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
