import { count, type FloorTime, floorTime } from '../units.ts';
import type { KeptCount } from './floorCounts.ts';
import type { RecordPhrase } from './recordPhrases.ts';
import type { FloorCount, FloorPhrase, FloorSeam } from './score.ts';

/**
 * For each kept count the index of its phrase of the recording, -1 for none. A bar that a clean seam runs through belongs
 * where more of its counts come from: a seam a beat before the bar line leaves no one-count phrase behind.
 */
export function phraseOwners(
  phrases: readonly RecordPhrase[],
  kept: readonly KeptCount[],
  seams: readonly FloorSeam[],
): number[] {
  const ownerOf = new Map<number, number>();
  for (const [i, { first, counts }] of phrases.entries())
    for (let source = first; source < first + counts; source++) ownerOf.set(source, i);
  const owners = kept.map(({ source }) => ownerOf.get(source) ?? -1);
  for (const { clean, next } of seams) {
    const after = kept[next];
    if (!clean || next === 0 || !after || after.count.inBar === 0) continue;
    let from: number = next - 1;
    while (from > 0 && kept[from]!.count.inBar > 0) from--;
    let to: number = next + 1;
    while (to < kept.length && kept[to]!.count.inBar > 0) to++;
    const before = owners[next - 1]!;
    const owner = before >= 0 && next - from >= to - next ? before : owners[next]!;
    owners.fill(owner, from, to);
  }
  return owners;
}

/** The counts as dancers count them: numbered on the floor, and from 0 in each phrase. */
export function numbered(kept: readonly KeptCount[], owners: readonly number[]): FloorCount[] {
  let phrase = -1;
  let inPhrase = 0;
  return kept.map(({ count: { record, inBar, pickUp, assumed }, floor }, i) => {
    const owner = owners[i]!;
    const goesOn = i > 0 && owner === owners[i - 1];
    if (owner >= 0 && !goesOn) phrase += 1;
    inPhrase = goesOn ? inPhrase + 1 : 0;
    const place = { phrase: owner < 0 ? -1 : phrase, inPhrase, inBar };
    return { index: count(i), floor, record, ...place, pickUp, assumed };
  });
}

/**
 * Phrases in floor order. `section` is the index into the recording's sections here; floorSections renumbers it.
 * @param length of the floor in seconds, where the last phrase ends at the latest
 */
export function floorPhrases(
  source: readonly RecordPhrase[],
  owners: readonly number[],
  kept: readonly KeptCount[],
  counts: readonly FloorCount[],
  length: FloorTime,
): FloorPhrase[] {
  const phrases: FloorPhrase[] = [];
  for (const [i, at] of counts.entries()) {
    if (at.phrase < 0) continue;
    const { section, counts: full, odd } = source[owners[i]!]!;
    const { floor, record } = at;
    if (at.inPhrase === 0) {
      const index = at.phrase;
      phrases.push({
        index,
        section,
        first: at.index,
        counts: 0,
        floor,
        end: floor,
        record,
        full,
        odd,
      });
    }
    const phrase = phrases.at(-1)!;
    phrase.counts += 1;
    const next = counts[i + 1];
    const { interval } = kept[i]!;
    // Where the counts stop for a while, the phrase ends one count after its last.
    const end = next && next.floor - floor < 1.5 * interval ? next.floor : floor + interval;
    phrase.end = floorTime(Math.min(length, end));
  }
  return phrases;
}
