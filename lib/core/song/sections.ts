import { mean } from '../signal/statistics.ts';
import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { type BarView, barsView, harmonyLikeness } from './bars.ts';
import type { Frames } from './frames.ts';
import { kindsOf } from './kinds.ts';
import { repetitionOf } from './repetition.ts';
import type { SectionKind } from './section.ts';
import { segmentsOf } from './segments.ts';

/** A section as it was heard; `like` is the same letter where the music is the same. */
export interface HeardSection {
  start: RecordTime;
  end: RecordTime;
  kind: SectionKind;
  like: string;
}

/** Sections whose bars' mean likeness, on the song's own scale, reaches this hold the same music. */
const SAME_MUSIC = 0.55;
/** What a change of key between two renderings takes off their likeness. */
const OTHER_KEY = 0.03;

/**
 * Sections from the bars: cut where timbre, harmony or repetition change, named by what repeats and how loud it is.
 * @param bars starts of bars, seconds of record time
 * @param end where the last section ends
 */
export function sectionsOf(
  frames: Frames,
  bars: readonly number[],
  end: number,
): { sections: HeardSection[]; confidence: number } {
  if (bars.length < 2) return { sections: [], confidence: 0 };
  const edges = [...bars, Math.max(end, bars.at(-1)! + 0.1)];
  const view = barsView(frames, edges);
  const repetition = repetitionOf(view);
  const { starts, likely } = segmentsOf(view, repetition);
  const spans = starts.map((start, i): [number, number] => [start, starts[i + 1] ?? view.count]);
  const likes = lettersOf(view, spans, repetition.scale);
  const levels = spans.map(([from, to]) => mean(view.level.subarray(from, to)));
  const kinds = kindsOf(
    spans.map(([from, to], i) => ({ bars: to - from, like: likes[i]!, level: levels[i]! })),
  );
  return {
    sections: spans.map(([from, to], i) => ({
      start: recordTime(wholeMicros(edges[from]!)),
      end: recordTime(wholeMicros(edges[to]!)),
      kind: kinds[i]!,
      like: likes[i]!,
    })),
    confidence: starts.length < 2 ? 0.2 : mean(starts.slice(1).map((start) => likely[start]!)),
  };
}

/** The same letter for spans of the same music, A first: average linkage of the spans' likeness. */
function lettersOf(view: BarView, spans: [number, number][], scale: (likeness: number) => number): string[] {
  const groups = spans.map((_, i) => [i]);
  const likeness = spans.map((a) => spans.map((b) => spanLikeness(view, a, b, scale)));
  for (;;) {
    let best = { a: -1, b: -1, like: SAME_MUSIC };
    for (let a = 0; a < groups.length; a++) {
      for (let b = a + 1; b < groups.length; b++) {
        const like = mean(groups[a]!.flatMap((i) => groups[b]!.map((j) => likeness[i]![j]!)));
        if (like > best.like) best = { a, b, like };
      }
    }
    if (best.a < 0) break;
    groups[best.a]!.push(...groups[best.b]!);
    groups.splice(best.b, 1);
  }
  groups.sort((a, b) => Math.min(...a) - Math.min(...b));
  return spans.map((_, i) => letter(groups.findIndex((group) => group.includes(i))));
}

/** A to Z, then AA, AB ... */
const letter = (i: number): string =>
  (i < 26 ? '' : String.fromCharCode(64 + Math.floor(i / 26))) + String.fromCharCode(65 + (i % 26));

/** Mean likeness bar by bar from the start of both, in the same key or one that is up to three semitones off. */
function spanLikeness(
  view: BarView,
  a: [number, number],
  b: [number, number],
  scale: (likeness: number) => number,
): number {
  const bars = Math.min(a[1] - a[0], b[1] - b[0]);
  const longer = Math.max(a[1] - a[0], b[1] - b[0]);
  let best = 0;
  for (let steps = -3; steps <= 3; steps++) {
    let sum = 0;
    for (let k = 0; k < bars; k++) sum += scale(harmonyLikeness(view, a[0] + k, b[0] + k, (steps + 12) % 12));
    best = Math.max(best, sum / bars - (steps === 0 ? 0 : OTHER_KEY));
  }
  // A short span that happens to fit the beginning of a long one is weak evidence.
  return best - (bars < 3 ? 0.06 : 0) - (longer > 2 * bars ? 0.03 : 0);
}
