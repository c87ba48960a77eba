import { mean } from '../signal/statistics.ts';
import type { SectionKind } from './section.ts';

interface Part {
  bars: number;
  like: string;
  /** dB. */
  level: number;
}

/** So many dB louder weigh as much as being heard one more time. */
const ONE_MORE_TIME = 3;

/**
 * Names for the parts of a song. A heuristic, and no more: the chorus is the music that returns loudest and most often, what returns before it
 * and is no longer than it is a pre-chorus where something else returns before that, the first other music that returns is the
 * verse; music heard once is a bridge between choruses, an intro at the start and an outro at the end.
 */
export function kindsOf(parts: readonly Part[]): SectionKind[] {
  const last = parts.length - 1;
  const returning = new Map<string, number[]>();
  parts.forEach((part, i) => {
    returning.set(part.like, [...(returning.get(part.like) ?? []), i]);
  });
  const opening = parts.length > 2 && opens(parts, returning);
  const closing = parts.length > 2 && closes(parts);
  const inner = (i: number): boolean => !(i === 0 && opening) && !(i === last && closing);
  const groups = [...returning].map(([like, places]) => ({ like, places: places.filter(inner) }));
  const repeated = groups.filter(({ places }) => places.length >= 2);
  const lastInner = parts.findLastIndex((_, i) => inner(i));
  const chorusLike = ({ places }: { places: number[] }): number =>
    mean(places.map((i) => parts[i]!.level)) / ONE_MORE_TIME +
    places.length +
    (places.includes(lastInner) ? 0.5 : 0);
  const chorus = [...repeated].sort((a, b) => chorusLike(b) - chorusLike(a))[0];
  const others = repeated.filter((group) => group !== chorus).sort((a, b) => a.places[0]! - b.places[0]!);
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
    if (chorus === undefined) return 'verse';
    return i < chorus.places[0]! ? 'verse' : 'bridge';
  });
}

/** The first part is an intro when it is short, or quieter than what follows and heard nowhere else. */
function opens(parts: readonly Part[], returning: Map<string, number[]>): boolean {
  const [first, second] = [parts[0]!, parts[1]!];
  return first.bars < second.bars || (returning.get(first.like)!.length === 1 && first.level < second.level);
}

/** The last part is an outro when it is short and quieter than the one before. */
function closes(parts: readonly Part[]): boolean {
  const [before, last] = [parts.at(-2)!, parts.at(-1)!];
  return last.level < before.level && last.bars <= before.bars;
}
