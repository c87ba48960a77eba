import type { Section } from '../song/section.ts';
import { count, floorTime, recordTime } from '../units.ts';
import type { RecordPhrase } from './recordPhrases.ts';
import type { CompiledEdit, FloorCount, FloorPhrase, FloorSection, Span } from './score.ts';
import { sectionNames } from './sectionNames.ts';

/** Less than this of a section, in seconds, is a rest at a seam and not a section. */
const LEAST = 0.06;

/**
 * Sections of which something is played, in floor order, and the phrases renumbered to them. A section with counts runs
 * from its first count to the end of its last phrase; one without any (a spoken intro) is what is kept of it.
 * @param source phrases of the recording
 * @param sections in order
 */
export function floorSections(
  source: readonly RecordPhrase[],
  sections: readonly Section[],
  phrases: readonly FloorPhrase[],
  counts: readonly FloorCount[],
  compiled: CompiledEdit,
  duration: number,
): { sections: FloorSection[]; phrases: FloorPhrase[] } {
  const names = sectionNames(sections);
  const played: FloorSection[] = [];
  const renumbered: FloorPhrase[] = [];
  for (const [i, section] of sections.entries()) {
    const { id, kind, like } = section;
    const index = played.length;
    const about = { index, id, kind, like, name: names.get(id)! };
    const own = phrases.filter((phrase) => phrase.section === i);
    const full = source.reduce((sum, p) => sum + (p.section === i ? p.counts : 0), 0);
    if (own.length > 0) {
      const { first, floor, record } = own[0]!;
      const total = own.reduce((sum, p) => sum + p.counts, 0);
      const extent = { first, floor, record, end: own.at(-1)!.end };
      played.push({ ...about, ...extent, counts: total, partial: total < full });
      for (const phrase of own) renumbered.push({ ...phrase, section: index });
    } else if (full === 0) {
      const extent = keptExtent(compiled, section.start, sections[i + 1]?.start ?? duration);
      if (!extent) continue;
      const at = counts.findIndex((c) => c.floor >= extent.floor);
      played.push({
        ...about,
        ...extent,
        first: count(at < 0 ? counts.length : at),
        counts: 0,
      });
    }
  }
  return { sections: played, phrases: renumbered };
}

function keptExtent(compiled: CompiledEdit, from: number, to: number) {
  const parts = compiled.spans
    .map((span) => ({ span, begins: Math.max(from, span.from), ends: Math.min(to, span.to) }))
    .filter(({ begins, ends }) => ends > begins);
  const first = parts[0];
  const last = parts.at(-1);
  const kept = parts.reduce((sum, { begins, ends }) => sum + ends - begins, 0);
  if (!first || !last || kept < LEAST) return null;
  const onFloor = (span: Span, at: number) => floorTime(span.floor + (at - span.from) / compiled.speed);
  return {
    record: recordTime(first.begins),
    floor: onFloor(first.span, first.begins),
    end: onFloor(last.span, last.ends),
    partial: kept < to - from - LEAST,
  };
}
