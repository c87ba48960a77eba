import { memo, useId, useMemo } from 'react';
import type { Plan } from '@/lib/core/areas/plan.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import { decodeFeatures } from '@/lib/core/song/features.ts';
import { usePlan } from '../_client/room.tsx';
import { Patterns, patternOf } from './patterns.tsx';
import { loudnessOutline, type Share, stripFade, stripGaps, stripSections } from './strip.ts';

/** Of the parts that are drawn in a box that is stretched to the strip. */
const [WIDTH, HEIGHT] = [1000, 64];

export const percent = (share: number): string => `${Math.round(1e4 * share) / 100}%`;

/** How loud the song is, as `StripPicture` draws it. */
export function useOutline(): string {
  const { features } = usePlan();
  return useMemo(
    () => (features ? loudnessOutline(decodeFeatures(features), WIDTH, HEIGHT) : ''),
    [features],
  );
}

/** What the edit leaves out is hatched in bold, and what fades loses its ink. Every strip of a song is drawn to one scale: its page's width. */
export const StripPicture = memo(function StripPicture({
  plan,
  edit,
  outline,
}: {
  plan: Plan;
  edit: Edit | null;
  outline: string;
}) {
  const prefix = useId();
  const edited = { edit, recording: plan.recording };
  const fade = stripFade(edited);
  return (
    <svg className="block size-full" aria-hidden="true">
      <Patterns prefix={prefix} />
      {stripSections(plan).map(({ id, from, to, pattern }) => (
        <rect
          key={id}
          {...across({ from, to })}
          fill={patternOf(prefix, pattern)}
          className="stroke-edge"
          strokeWidth={1}
        />
      ))}
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        preserveAspectRatio="none"
        width="100%"
        height="100%"
        aria-hidden="true"
      >
        <polygon points={outline} className="fill-ink/20" />
        {fade ? (
          <polygon
            points={`${fade.from * WIDTH},0 ${fade.to * WIDTH},0 ${fade.to * WIDTH},${HEIGHT}`}
            className="fill-paper/85"
          />
        ) : null}
      </svg>
      {stripGaps(edited).map((gap) => (
        <g key={gap.from}>
          <rect {...across(gap)} className="fill-paper/80" />
          <rect {...across(gap)} fill={`url(#${prefix}-left-out)`} />
        </g>
      ))}
    </svg>
  );
});

const across = ({ from, to }: Share) => ({ x: percent(from), width: percent(to - from), height: '100%' });
