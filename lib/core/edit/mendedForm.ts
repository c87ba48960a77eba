import { mean } from '../signal/statistics.ts';
import type { FeatureTable } from '../song/features.ts';
import type { Grid } from '../song/grid.ts';
import type { Part } from './form.ts';
import { harmonyBetween, type Usual } from './seam.ts';

/** Bars are alike in the mean below this share of the song's usual step from bar to bar. */
const ALIKE = 0.7;

/**
 * The form where the song's own repeats contradict a boundary that was heard, for sections that were given letters. A section that is as
 * long as one of its letter and what follows that one, and sounds like the two, is those two. A section that is shorter than one
 * of its letter, followed by music found nowhere else, which together are as long and sound like it, is one with that.
 */
export function mendedForm(parts: readonly Part[], grid: Grid, features: FeatureTable, usual: Usual): Part[] {
  const song: Song = { parts, features, usual, lines: grid.bars.map((i) => grid.beats[i]!) };
  return joined({ ...song, parts: parts.flatMap((part) => split(part, song)) });
}

interface Song {
  parts: readonly Part[];
  features: FeatureTable;
  usual: Usual;
  /** Bar lines, seconds. */
  lines: readonly number[];
}

function split(part: Part, song: Song): Part[] {
  const { parts, lines } = song;
  for (const [k, other] of parts.entries()) {
    const next = parts[k + 1];
    if (other === part || !next || !sameLetter(other, part) || next.like === part.like) continue;
    // Music found once only is rather the rest of the shorter one, see below.
    if (!parts.some((again) => again !== next && again.like === next.like)) continue;
    const [first, whole] = [barsIn(other, lines), barsIn(part, lines)];
    if (first === 0 || whole !== first + barsIn(next, lines)) continue;
    const at = lines[lineOf(part.start, lines) + first]!;
    if (!alike([at, part.end], [next.start, next.end], song)) continue;
    const tail = part.phrases.filter((phrase) => phrase > at + 0.1);
    return [
      { ...part, end: at, phrases: part.phrases.filter((phrase) => phrase < at - 0.1) },
      {
        ...{ ids: part.ids, name: `the ${next.kind} in ${part.name}`, kind: next.kind, like: next.like },
        ...{ start: at, end: part.end, phrases: [at, ...tail] },
      },
    ];
  }
  return [part];
}

function joined(song: Song): Part[] {
  const { parts, lines } = song;
  const done: Part[] = [];
  for (const [i, part] of parts.entries()) {
    const before = done.at(-1);
    const alone = parts.every((other, k) => k === i || other.like !== part.like);
    const model =
      before &&
      alone &&
      parts.find((other) => {
        const longer = other.start !== before.start && sameLetter(other, before);
        if (!longer || barsIn(other, lines) !== barsIn(before, lines) + barsIn(part, lines)) return false;
        const at = lines[lineOf(other.start, lines) + barsIn(before, lines)]!;
        return alike([part.start, part.end], [at, other.end], song);
      });
    if (!before || !model) {
      done.push(part);
      continue;
    }
    done[done.length - 1] = {
      ...before,
      ...{ ids: [...before.ids, ...part.ids], name: `${before.name} with ${part.name}` },
      ...{ end: part.end, phrases: [...before.phrases, ...part.phrases] },
    };
  }
  return done;
}

/** Letters that were heard; where nobody gave any, sections of one kind need not be the same music. */
const sameLetter = (a: Part, b: Part): boolean => a.like === b.like && a.like !== a.kind;

function lineOf(at: number, lines: readonly number[]): number {
  const next = lines.findIndex((line) => line >= at - 0.1);
  return next < 0 ? lines.length : next;
}

const barsIn = ({ start, end }: Part, lines: readonly number[]): number =>
  lineOf(end, lines) - lineOf(start, lines);

/** Bar by bar the harmony of two stretches of as many bars. */
function alike(
  [a, endA]: [number, number],
  [b, endB]: [number, number],
  { lines, features, usual }: Song,
): boolean {
  const [i, j] = [lineOf(a, lines), lineOf(b, lines)];
  const bars = Math.min(lineOf(endA, lines) - i, lineOf(endB, lines) - j, lines.length - 1 - Math.max(i, j));
  if (bars < 2) return false;
  const bar = (k: number) => [lines[k]!, lines[k + 1]!] as const;
  const steps = Array.from({ length: bars }, (_, k) => harmonyBetween(features, bar(i + k), bar(j + k)));
  return mean(steps) < ALIKE * usual.harmony;
}
