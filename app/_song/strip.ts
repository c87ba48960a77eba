import type { Plan } from '@/lib/core/areas/plan.ts';
import { compileEdit } from '@/lib/core/edit/compile.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { inOrder, sectionNames } from '@/lib/core/edit/sectionNames.ts';
import type { FeatureTable } from '@/lib/core/song/features.ts';
import type { SectionKind } from '@/lib/core/song/section.ts';
import { type RecordTime, recordTime } from '@/lib/core/units.ts';

/** A stretch of the whole song drawn as a strip: places are shares of its length, 0 to 1. */
export interface Share {
  from: number;
  to: number;
}
export interface StripSection extends Share {
  id: string;
  name: string;
  kind: SectionKind;
  start: RecordTime;
  /** Number of its pattern: the same for the same music, 0 where nobody said. */
  pattern: number;
}
export interface StripGap extends Share {
  seconds: number;
}

export function stripSections(plan: Pick<Plan, 'sections' | 'recording'>): StripSection[] {
  const duration = plan.recording?.duration ?? 0;
  const sections = inOrder(plan.sections);
  const names = sectionNames(sections);
  const letters = [...new Set(sections.map(({ like }) => like).filter((like) => like !== ''))].sort();
  return sections.map(({ id, kind, start, like }, i) => ({
    id,
    kind,
    start,
    name: names.get(id)!,
    from: start / duration,
    to: (sections[i + 1]?.start ?? duration) / duration,
    pattern: letters.indexOf(like) + 1,
  }));
}

/** What the edit does not play, in order. */
export function stripGaps(plan: Pick<Plan, 'edit' | 'recording'>): StripGap[] {
  const duration = plan.recording?.duration ?? 0;
  const { spans } = compileEdit(plan.edit ?? wholeSong, { duration });
  const edges = [0, ...spans.flatMap(({ from, to }) => [from, to]), duration];
  const gaps: StripGap[] = [];
  for (let i = 0; i + 1 < edges.length; i += 2) {
    const [from, to] = [edges[i]!, edges[i + 1]!];
    if (to - from > 0.01) gaps.push({ from: from / duration, to: to / duration, seconds: to - from });
  }
  return gaps;
}

/** Where the music fades, to where it is gone; null for the own end. */
export function stripFade({ edit, recording }: Pick<Plan, 'edit' | 'recording'>): Share | null {
  const duration = recording?.duration ?? 0;
  if (edit?.end.kind !== 'fade') return null;
  const last = compileEdit(edit, { duration }).spans.at(-1);
  return last ? { from: Math.max(edit.end.from, last.from) / duration, to: last.to / duration } : null;
}

/** What is heard of the recording when a stretch of the edit is: both sides of a join. */
export function stripHeard(
  { edit, recording }: Pick<Plan, 'edit' | 'recording'>,
  { from, to }: { from: number; to: number },
): Share[] {
  const duration = recording?.duration ?? 0;
  const { spans, speed } = compileEdit(edit ?? wholeSong, { duration });
  return spans.flatMap((span) => {
    const at = (floor: number) =>
      Math.min(span.to, Math.max(span.from, span.from + (floor - span.floor) * speed)) / duration;
    return at(to) > at(from) ? [{ from: at(from), to: at(to) }] : [];
  });
}

/** Points of an SVG outline of the loudness in a box of `width` by `height`: the loudest tenth fills it, 30 LU less is its floor. */
export function loudnessOutline(table: FeatureTable, width: number, height: number, points = 240): string {
  const { loudness } = table;
  const top = [...loudness].sort((a, b) => b - a)[Math.floor(loudness.length / 10)] ?? 0;
  const line = Array.from({ length: points }, (_, i) => {
    const from = Math.floor((i * loudness.length) / points);
    const to = Math.max(from + 1, Math.floor(((i + 1) * loudness.length) / points));
    let sum = 0;
    for (let k = from; k < to; k++) sum += loudness[Math.min(k, loudness.length - 1)] ?? -80;
    const share = Math.max(0, Math.min(1, 1 + (sum / (to - from) - top) / 30));
    return `${((i + 0.5) * width) / points},${(height * (1 - share)).toFixed(1)}`;
  });
  return `0,${height} ${line.join(' ')} ${width},${height}`;
}

/** The moment that a place in the strip means. */
export const momentOf = (share: number, duration: number): RecordTime =>
  recordTime(Math.max(0, Math.min(1, share)) * duration);
