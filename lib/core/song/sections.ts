import { mean } from '../signal/statistics.ts';
import { type RecordTime, recordTime, wholeMicros } from '../units.ts';
import { barsView } from './bars.ts';
import type { Frames } from './frames.ts';
import { kindsOf } from './kinds.ts';
import { likesOf } from './likes.ts';
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

/**
 * Sections from the bars: cut where timbre, harmony or repetition change, named by what repeats and how loud it is.
 * @param bars starts of bars, seconds of record time
 * @param end where the last section ends
 * @returns besides, by how many semitones each section is raised above the song's beginning, and the share of boundaries to be expected right
 */
export function sectionsOf(
  frames: Frames,
  bars: readonly number[],
  end: number,
): { sections: HeardSection[]; raised: number[]; confidence: number } {
  if (bars.length < 2) return { sections: [], raised: [], confidence: 0 };
  const edges = [...bars, Math.max(end, bars.at(-1)! + 0.1)];
  const view = barsView(frames, edges);
  const repetition = repetitionOf(view);
  const { starts, likely } = segmentsOf(view, repetition);
  const spans = starts.map((start, i): [number, number] => [start, starts[i + 1] ?? view.count]);
  const { letters: likes, raised, strains } = likesOf(view, repetition, spans);
  const levels = spans.map(([from, to]) => mean(view.level.subarray(from, to)));
  const kinds = kindsOf(
    spans.map(([from, to], i) => ({
      bars: to - from,
      like: likes[i]!,
      level: levels[i]!,
      strain: strains[i]!,
    })),
  );
  return {
    sections: spans.map(([from, to], i) => ({
      start: recordTime(wholeMicros(edges[from]!)),
      end: recordTime(wholeMicros(edges[to]!)),
      kind: kinds[i]!,
      like: likes[i]!,
    })),
    raised,
    confidence: expectedF(starts, likely),
  };
}

/** What a song heard as one section is trusted. */
const ONE_SECTION = 0.2;

/** The F-measure to expect of the boundaries, both ends included, when each bar line is one as often as it is likely. */
function expectedF(starts: readonly number[], likely: Float64Array): number {
  if (starts.length < 2) return ONE_SECTION;
  const right = starts.slice(1).reduce((sum, start) => sum + likely[start]!, 2);
  const truth = likely.subarray(1, -1).reduce((sum, p) => sum + p, 2);
  return (2 * right) / (starts.length + 1 + truth);
}
