import type { RecordTime } from '../units.ts';
import { clock, recordTime } from '../units.ts';
import { compileEdit } from './compile.ts';
import type { Edit } from './edit.ts';
import type { FadePlace, Pair, Part } from './form.ts';
import type { ProposalKind } from './ranking.ts';

export interface LeftOut {
  from: RecordTime;
  to: RecordTime;
  /** Sections in it: "bridge", or "part of chorus 2". */
  names: string[];
}

/** Less than this of a section, in seconds, is not worth naming: a seam lies a little before its bar. */
const A_BEAT = 1;

/** The stretches of the recording that an edit does not play, with what is in them. */
export function leftOutOf(parts: readonly Part[], edit: Edit, duration: number): LeftOut[] {
  const { spans } = compileEdit(edit, { duration });
  const edges = [0, ...spans.flatMap((span) => [span.from, span.to]), duration];
  const gaps: LeftOut[] = [];
  for (let i = 0; i < edges.length; i += 2) {
    const [from, to] = [edges[i]!, edges[i + 1]!];
    if (to - from < 0.001) continue;
    gaps.push({ from: recordTime(from), to: recordTime(to), names: namesIn(parts, from, to) });
  }
  return gaps;
}

function namesIn(parts: readonly Part[], from: number, to: number): string[] {
  return parts.flatMap(({ name, start, end }) => {
    const inside = Math.min(end, to) - Math.max(start, from);
    if (inside < Math.min(A_BEAT, (end - start) / 2)) return [];
    return [inside > end - start - A_BEAT ? name : `part of ${name}`];
  });
}

/** What is played and what is left out, in one sentence. */
export function wordsFor(
  kind: ProposalKind,
  parts: readonly Part[],
  leftOut: readonly LeftOut[],
  length: number,
  pair: Pair | null,
  fadesWith: FadePlace | null,
): string {
  if (kind === 'own length') return `Plays the whole song, ${clock(length)}, with its own ending.`;
  const names = leftOut.flatMap((gap) => gap.names);
  const ending = fadesWith ? fadeWords(parts, fadesWith, length) : "keeps the song's own ending";
  const way = pair ? `Goes ${wayOf(pair, parts)} and ${ending}` : `Plays from the beginning and ${ending}`;
  return names.length === 0
    ? `${way}.`
    : `${way}; ${listed(names)} ${names.length === 1 ? 'is' : 'are'} left out.`;
}

function fadeWords(parts: readonly Part[], { part, whole }: FadePlace, length: number): string {
  const name = parts[part]?.name;
  if (!name) return `fades out at ${clock(length)}`;
  return `fades out with ${whole ? 'the end' : 'a phrase'} of ${name}`;
}

function wayOf({ from, to, atPickUp }: Pair, parts: readonly Part[]): string {
  const [a, b] = [parts[from.part]!, parts[to.part]!];
  if (from.phrase > 0) return `from within ${a.name} to the same place in ${b.name}`;
  return `from ${parts[from.part - 1]!.name} straight into ${atPickUp ? 'the pick-up of ' : ''}${b.name}`;
}

function listed(names: readonly string[]): string {
  if (names.length === 1) return names[0]!;
  return `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
