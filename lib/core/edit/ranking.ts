import type { SectionKind } from '../song/section.ts';
import { recordTime } from '../units.ts';
import { compileEdit } from './compile.ts';
import type { Edit } from './edit.ts';
import type { Pair, Part } from './form.ts';
import type { SeamFigures } from './seam.ts';

export type ProposalKind = 'own length' | 'fade' | 'splice' | 'splice and fade';

/** What the person asks for; seconds. */
export interface Wishes {
  target: number;
  within: number;
  /** Moments of record time that must be played, as cue words or the landing. */
  pins?: readonly number[];
  /** Ids of the sections that must be played whole. */
  keep?: readonly string[];
  /** It ends as the recording does: no fade. */
  ownEnding?: boolean;
  /** Nothing is joined: no splice. */
  noJoin?: boolean;
}

/** Less than this, in seconds, is not missed of a section: a seam lies a little before its bar line. */
const NOT_MISSED = 1;

/** An edit that does what the person insists on. */
export function obeys(
  edit: Edit,
  parts: readonly Part[],
  duration: number,
  { pins = [], keep = [], ownEnding = false, noJoin = false }: Wishes,
): boolean {
  if (noJoin && edit.cuts.length > 0) return false;
  if (ownEnding && edit.end.kind !== 'own') return false;
  const { toFloor } = compileEdit(edit, { duration });
  if (pins.some((pin) => toFloor(recordTime(pin)) === null)) return false;
  const kept = keptShares(parts, edit, duration);
  return parts.every(({ ids, start, end }, i) => {
    const missing = (1 - kept[i]!) * (end - start);
    return !ids.some((id) => keep.includes(id)) || missing < Math.min(NOT_MISSED, (end - start) / 2);
  });
}

/**
 * The weights below are a choice, not a measurement: they put common practice in order (no source). What matters is their
 * order: a verse is missed most, then a chorus, then what only leads on; a song's own ending is worth more than a simple edit.
 */
const KIND: Record<ProposalKind, number> = {
  'own length': 0,
  splice: 0.25,
  fade: 0.9,
  'splice and fade': 1.4,
};
const MISSED: Record<SectionKind, number> = {
  ...{ verse: 0.5, chorus: 0.35, intro: 0.3, outro: 0.3, bridge: 0.2, 'pre-chorus': 0.2, instrumental: 0.1 },
};
/** How odd it is for the music to fade away with the end of such a section. */
const FADES_WITH: Record<SectionKind, number> = {
  ...{ chorus: 0, outro: 0.1, instrumental: 0.4, verse: 0.7, bridge: 0.8, 'pre-chorus': 1, intro: 2 },
};
const HALF_A_SECTION = 0.35;
const LAST_CHORUS = 0.5;
const NO_CHORUS = 1.5;
const NO_VERSE = 1;
const NEVER_FOLLOWS = 1.5;
const OWN_TURN = 0.3;

/** Shares of each part that an edit plays, 0 to 1. */
export function keptShares(parts: readonly Part[], edit: Edit, duration: number): number[] {
  const { spans } = compileEdit(edit, { duration });
  return parts.map(({ start, end }) => {
    const kept = spans.reduce(
      (sum, s) => sum + Math.max(0, Math.min(end, s.to) - Math.max(start, s.from)),
      0,
    );
    return end > start ? kept / (end - start) : 1;
  });
}

/** Nothing on the target, half at the edge of what is still fine, and much beyond. */
export function lengthCost(length: number, { target, within }: Wishes): number {
  const off = Math.abs(length - target) / Math.max(1, within);
  return off <= 1 ? 0.5 * off * off : 1.5 + 2 * (off - 1);
}

/** What is missed of the song; for a fade, what comes after it counts for less, as every fade ends before the end. */
export function missingCost(kind: ProposalKind, parts: readonly Part[], kept: readonly number[]): number {
  const total = parts.reduce((sum, part) => sum + part.end - part.start, 0) || 1;
  let missed = 0;
  for (const [i, { kind: of, start, end }] of parts.entries()) {
    const gone = 1 - kept[i]!;
    missed += gone * (MISSED[of] + (0.6 * (end - start)) / total);
    if (gone > 0.1 && gone < 0.9) missed += HALF_A_SECTION;
  }
  const some = (of: SectionKind) => parts.some((part) => part.kind === of);
  const plays = (of: SectionKind) => parts.some((part, i) => part.kind === of && kept[i]! > 0.5);
  const lost =
    (some('chorus') && !plays('chorus') ? NO_CHORUS : 0) + (some('verse') && !plays('verse') ? NO_VERSE : 0);
  if (kind === 'fade') return 0.3 * missed + lost;
  const last = parts.findLastIndex((part) => part.kind === 'chorus');
  const broken = kind === 'splice' && last >= 0 && kept[last]! < 0.95 ? LAST_CHORUS : 0;
  return missed + lost + broken;
}

/** @param part the one that the fade ends in; `whole` when it ends with the section, not with a phrase inside */
export const fadeCost = (part: Part, whole: boolean): number =>
  FADES_WITH[part.kind] + (whole ? 0 : HALF_A_SECTION + 0.15);

export const pairCost = (pair: Pair): number => NEVER_FOLLOWS * (1 - pair.follows);

/**
 * What may be heard of a seam: a step of more than 1 LU, music farther off than usual, a beat more than 6 ms off. Where the song goes
 * on like that elsewhere, unlike music is a turn that it takes itself, as a last chorus a tone higher.
 */
export function seamCost(
  { beatErrorMs, levelStepLu, harmony, timbre }: SeamFigures,
  { follows }: Pair,
): number {
  const unlike = follows === 1 ? OWN_TURN : 1;
  const over = (value: number, limit: number, weight: number) =>
    Math.min(0.5, weight * Math.max(0, value - limit));
  const beat = beatErrorMs === null ? 0.1 : 2 * over(Math.abs(beatErrorMs), 6, 0.025);
  const music = over(harmony, 1.5, 0.15) + over(timbre, 1.5, 0.15);
  return over(Math.abs(levelStepLu), 1, 0.1) + unlike * music + beat;
}

export const kindCost = (kind: ProposalKind): number => KIND[kind];
