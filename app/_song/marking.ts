import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Plan } from '@/lib/core/areas/plan.ts';
import { inOrder, sectionNames } from '@/lib/core/edit/sectionNames.ts';
import { median } from '@/lib/core/signal/statistics.ts';
import { type Correction, SAID } from '@/lib/core/song/evidence.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import { signed } from '@/lib/core/song/signing.ts';
import { nearest } from '@/lib/core/song/stretches.ts';
import { type RecordTime, recordTime, wholeMicros } from '@/lib/core/units.ts';
import { barTimes } from './sectionSteps.ts';

/** What somebody marks while the recording plays. */
export const MARK_KINDS = ['beat', 'bar', 'section', 'word', 'stop'] as const;
export type MarkKind = (typeof MARK_KINDS)[number];
export interface Mark {
  kind: MarkKind;
  at: RecordTime;
}

export interface MarkTally {
  beats: number;
  bars: number;
  sections: number;
  words: number;
  stops: number;
}

/** Marks further apart are two runs: the person lost the beat, or let it go. Seconds. */
const ANEW = 3;
/** Fewer taps tell no tempo. */
const LEAST = 4;

/** How many of each; a stop that was ended counts once. */
export function tallyOf(marks: readonly Mark[]): MarkTally {
  const of = (kind: MarkKind) => marks.filter((mark) => mark.kind === kind).length;
  return {
    beats: of('beat'),
    bars: of('bar'),
    sections: of('section'),
    words: of('word'),
    stops: Math.ceil(of('stop') / 2),
  };
}

/** Marked in time's order; a mark may be made after going back in the recording. */
const timesOf = (marks: readonly Mark[], ...kinds: MarkKind[]): RecordTime[] => [
  ...new Set(
    marks
      .filter(({ kind }) => kinds.includes(kind))
      .map(({ at }) => recordTime(wholeMicros(at)))
      .sort((a, b) => a - b),
  ),
];

/**
 * What the marks say of beats and bars. A one is a beat, too, where beats are marked around it; beats too few to tell a tempo say
 * nothing; a stop lasts to the next press for it, or to the end.
 */
export function saidBy(marks: readonly Mark[], by: string, duration: number): Correction[] {
  const own = { ...SAID, byHand: true, by: signed(by) };
  const said: Correction[] = [];
  const ofBeats = new Set<number>(timesOf(marks, 'beat'));
  for (const run of runsOf(timesOf(marks, 'beat', 'bar'))) {
    const beats = run.filter((t) => ofBeats.has(t)).length;
    if (beats >= LEAST && beats >= run.length / 2) said.push({ ...own, kind: 'beats', times: run });
  }
  const bars = timesOf(marks, 'bar');
  if (bars.length > 0) said.push({ ...own, kind: 'bars', times: bars });
  const stops = timesOf(marks, 'stop');
  for (let i = 0; i < stops.length; i += 2) {
    const to = stops[i + 1] ?? recordTime(wholeMicros(duration));
    said.push({ ...own, kind: 'stop', times: [stops[i]!, to] });
  }
  return said;
}

function runsOf(times: readonly RecordTime[]): RecordTime[][] {
  const runs: RecordTime[][] = [];
  for (const t of times) {
    const last = runs.at(-1);
    if (last && t - last.at(-1)! < ANEW) last.push(t);
    else runs.push([t]);
  }
  return runs;
}

/** What is made of a section's mark. */
export interface MarkedSection {
  /** The section that begins there; null for a new one. */
  id: string | null;
  name: string;
  from: RecordTime | null;
  start: RecordTime;
}

/** Each mark for a section on the bar line that it means: a section within two bars of it begins there, else a new one does. */
export function markedSections(
  plan: Pick<Plan, 'sections'>,
  grid: Grid,
  marks: readonly Mark[],
  late: number,
): MarkedSection[] {
  const bars = barTimes(grid);
  if (bars.length < 2) return [];
  const bar = median(bars.slice(1).map((t, i) => t - bars[i]!));
  const names = sectionNames(inOrder(plan.sections));
  const free = new Map(plan.sections.map((section) => [section.id, section]));
  const starts = new Set<number>();
  return timesOf(marks, 'section').flatMap((t): MarkedSection[] => {
    const start = bars[nearest(bars, t - late)]!;
    if (starts.has(start)) return [];
    starts.add(start);
    const near = [...free.values()]
      .filter((section) => Math.abs(section.start - start) < 2 * bar)
      .sort((a, b) => Math.abs(a.start - start) - Math.abs(b.start - start))[0];
    if (near) free.delete(near.id);
    return [
      { id: near?.id ?? null, name: near ? names.get(near.id)! : '', from: near?.start ?? null, start },
    ];
  });
}

/** Words that were marked, at the moments they are heard at. */
export const markedWords = (marks: readonly Mark[], late: number): RecordTime[] =>
  timesOf(marks, 'word').map((t) => recordTime(wholeMicros(Math.max(0, t - late))));

/**
 * The changes that sections and words make, beside those of the counts.
 * @param words of each of the marked words, in order; empty ones are left out @param ids as many new ones as there are marks
 */
export function markChanges(
  plan: Pick<Plan, 'sections'>,
  sections: readonly MarkedSection[],
  cues: readonly { at: RecordTime; word: string }[],
  by: string,
  ids: readonly string[],
): PlanChange[] {
  const fresh = [...ids];
  const confirmedBy = signed(by);
  const order = inOrder(plan.sections);
  return [
    ...sections.map(({ id, start }): PlanChange => {
      if (id !== null) return { collection: 'sections', id, fields: { start, confirmedBy } };
      const before = order.findLast((section) => section.start <= start);
      const fields = {
        ...{ start, confirmedBy, like: '', name: '' },
        kind: before?.kind ?? ('verse' as const),
        phraseBars: before?.phraseBars ?? null,
      };
      return { collection: 'sections', id: fresh.shift()!, fields };
    }),
    ...cues
      .filter(({ word }) => word.trim() !== '')
      .map(({ at, word }): PlanChange => {
        const fields = { at, word: word.trim().slice(0, 80) };
        return { collection: 'cues', id: fresh.shift()!, fields };
      }),
  ];
}
