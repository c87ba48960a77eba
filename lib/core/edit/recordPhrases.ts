import type { Section } from '../song/section.ts';
import { intervalAround, type RecordCount } from './recordCounts.ts';

/** A phrase of the recording, before any edit. */
export interface RecordPhrase {
  /** Index into the sections in order. */
  section: number;
  /** Index of its first count, and how many it has. */
  first: number;
  counts: number;
  /** Its length is not what the section's phrase length says. */
  odd: boolean;
}

interface Bar {
  section: number;
  first: number;
  counts: number;
}

/**
 * Cuts each section into phrases from its first bar. A remainder of up to half a phrase joins the last phrase, a longer one
 * stands as a short phrase. Pick-ups, counts before the first section and bars past the last beat are in no phrase.
 * @param sections in order
 */
export function recordPhrases(
  counts: readonly RecordCount[],
  sections: readonly Section[],
  phraseBars: number,
  perBar: number,
): RecordPhrase[] {
  const bars = barsOf(counts, sections);
  return sections.flatMap((section, index) => {
    const own = bars.filter((bar) => bar.section === index);
    const length = section.phraseBars ?? phraseBars;
    return chunk(own, length).map((part) => {
      const total = part.reduce((sum, bar) => sum + bar.counts, 0);
      return {
        section: index,
        first: part[0]!.first,
        counts: total,
        odd: total !== length * perBar,
      };
    });
  });
}

function barsOf(counts: readonly RecordCount[], sections: readonly Section[]): Bar[] {
  const times = counts.map((count) => count.record);
  const bars: Bar[] = [];
  let current = -1;
  for (const [i, count] of counts.entries()) {
    if (count.bar < 0) continue;
    if (count.bar !== current) {
      if (count.assumed) break;
      current = count.bar;
      // A section that is marked up to half a count late still begins at this bar.
      const reach = count.record + intervalAround(times, i) / 2;
      bars.push({
        section: sections.findLastIndex((s) => s.start <= reach),
        first: i,
        counts: 0,
      });
    }
    bars.at(-1)!.counts += 1;
  }
  return bars;
}

function chunk(bars: Bar[], length: number): Bar[][] {
  const parts: Bar[][] = [];
  for (let i = 0; i < bars.length; i += length) parts.push(bars.slice(i, i + length));
  const last = parts.at(-1);
  if (parts.length > 1 && last && last.length <= length / 2) {
    parts.pop();
    parts.at(-1)!.push(...last);
  }
  return parts;
}
