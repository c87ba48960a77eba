import { mean } from '../signal/statistics.ts';
import type { SectionKind } from './section.ts';

interface Part {
  bars: number;
  like: string;
  /** dB. */
  level: number;
  /** It has the chords of other music and sounds otherwise: that music without its voice, or played by another instrument. */
  strain?: boolean;
}

interface Group {
  like: string;
  places: number[];
}

/** So many dB louder weigh as much as being heard one more time. */
const ONE_MORE_TIME = 3;
/** The first music that returns is the verse, unless it is louder than the other music by this. dB. */
const OPENS_WITH_CHORUS = 2;
/** What returns louder than the first music by this can be a chorus even if it is heard less often. dB. */
const LIFTED = 1;

/**
 * Names for the parts of a song. A heuristic, and no more: the first music that returns is the verse, other music that returns
 * louder or as often is the chorus, what returns before that and is no longer than it is a pre-chorus; other music between them is an
 * instrumental when it has the chords of other music or leads from a chorus back to the verse and is no longer than either, else a
 * bridge; quiet music heard once at the start is an intro and at the end an outro. Where only one music returns, its parts are verses.
 */
export function kindsOf(parts: readonly Part[]): SectionKind[] {
  const last = parts.length - 1;
  const returning = new Map<string, number[]>();
  parts.forEach((part, i) => {
    returning.set(part.like, [...(returning.get(part.like) ?? []), i]);
  });
  const opening = parts.length > 2 && opens(parts, returning);
  const closing = parts.length > 2 && closes(parts, returning);
  const inner = (i: number): boolean => !(i === 0 && opening) && !(i === last && closing);
  const groups = [...returning]
    .map(([like, places]): Group => ({ like, places: places.filter(inner) }))
    .filter(({ places }) => places.length >= 2)
    .sort((a, b) => a.places[0]! - b.places[0]!);
  const chorus = chorusAmong(parts, groups, inner);
  const others = groups.filter((group) => group !== chorus);
  const leads = (places: number[]): boolean =>
    chorus !== undefined &&
    places.filter((i) => parts[i + 1]?.like === chorus.like).length >= places.length / 2 &&
    mean(places.map((i) => parts[i]!.bars)) <= mean(chorus.places.map((i) => parts[i]!.bars));
  const verse = others.find(({ places }) => !leads(places)) ?? others[0];
  const preChorus = others.find((group) => group !== verse && leads(group.places));
  return parts.map((part, i) => {
    if (i === 0 && opening) return 'intro';
    if (i === last && closing) return 'outro';
    if (part.like === chorus?.like) return 'chorus';
    if (part.like === verse?.like) return 'verse';
    if (part.like === preChorus?.like) return 'pre-chorus';
    const known = Math.min(chorus?.places[0] ?? parts.length, verse?.places[0] ?? parts.length);
    if (i < known || (chorus === undefined && verse === undefined)) return 'verse';
    return part.strain || linksBack(parts, i, chorus, verse) ? 'instrumental' : 'bridge';
  });
}

/** Between a chorus and the verse, and no longer than either: what leads back from one to the other. */
function linksBack(parts: readonly Part[], i: number, chorus?: Group, verse?: Group): boolean {
  const [before, after] = [parts[i - 1], parts[i + 1]];
  return (
    before !== undefined &&
    before.like === chorus?.like &&
    after !== undefined &&
    after.like === verse?.like &&
    parts[i]!.bars <= Math.min(before.bars, after.bars)
  );
}

/** The music that returns loudest and most often, if any does besides the verse. */
function chorusAmong(
  parts: readonly Part[],
  groups: readonly Group[],
  inner: (i: number) => boolean,
): Group | undefined {
  const [first, ...later] = groups;
  if (!first) return undefined;
  const levelAt = (places: readonly number[]): number => mean(places.map((i) => parts[i]!.level));
  const level = ({ places }: Group): number => levelAt(places);
  if (later.length === 0) {
    const others = [...parts.keys()].filter((i) => inner(i) && !first.places.includes(i));
    return others.length >= 2 && level(first) > levelAt(others) + OPENS_WITH_CHORUS ? first : undefined;
  }
  // Heard twice in a row is heard once.
  const times = ({ places }: Group): number => places.filter((i) => !places.includes(i - 1)).length;
  const score = (group: Group): number => level(group) / ONE_MORE_TIME + times(group);
  const best = [...later].sort((a, b) => score(b) - score(a))[0]!;
  if (level(first) > level(best) + OPENS_WITH_CHORUS) return first;
  return times(best) >= times(first) || level(best) > level(first) + LIFTED ? best : undefined;
}

/** Music that is heard only at the edges, or shorter and quieter than where it is heard otherwise. */
function apart(parts: readonly Part[], returning: Map<string, number[]>, at: number): boolean {
  const others = returning.get(parts[at]!.like)!.filter((i) => i > 0 && i < parts.length - 1);
  return (
    others.length === 0 ||
    (parts[at]!.bars < mean(others.map((i) => parts[i]!.bars)) &&
      parts[at]!.level < mean(others.map((i) => parts[i]!.level)))
  );
}

/** The first part is an intro when it stands apart, and is shorter or quieter than what follows. */
function opens(parts: readonly Part[], returning: Map<string, number[]>): boolean {
  const [first, second] = [parts[0]!, parts[1]!];
  return apart(parts, returning, 0) && (first.bars < second.bars || first.level < second.level);
}

/** The last part is an outro when it stands apart, and is not longer and quieter than the one before. */
function closes(parts: readonly Part[], returning: Map<string, number[]>): boolean {
  const [before, last] = [parts.at(-2)!, parts.at(-1)!];
  return apart(parts, returning, parts.length - 1) && last.level < before.level && last.bars <= before.bars;
}
