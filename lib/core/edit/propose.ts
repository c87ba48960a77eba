import type { Samples } from '../signal/samples.ts';
import { decodeFeatures, type FeatureTable } from '../song/features.ts';
import type { Features } from '../song/recording.ts';
import { recordTime, toMicros } from '../units.ts';
import { compileEdit } from './compile.ts';
import type { Cut, Edit, SongEnd } from './edit.ts';
import { wholeSong } from './edit.ts';
import type { SongPlan } from './floorScore.ts';
import { type FadePlace, formOf, type Pair, type Part, pairsOf } from './form.ts';
import { type LeftOut, leftOutOf, wordsFor } from './proposalWords.ts';
import type { ProposalKind, Wishes } from './ranking.ts';
import * as cost from './ranking.ts';
import {
  barAt,
  measureSeam,
  type SeamFigures,
  seamBetween,
  seamFigures,
  type Usual,
  usualSteps,
} from './seam.ts';

/** A song to be shaped. With its samples the best seams are aligned and measured, without them taken from the grid. */
export interface Shaped {
  plan: SongPlan;
  features: Features | null;
  samples?: Samples;
}

export interface Proposal {
  kind: ProposalKind;
  /** Seconds. */
  floorLength: number;
  edit: Edit;
  leftOut: LeftOut[];
  seam: SeamFigures | null;
  words: string;
}

/** What a first dance is good at, unless somebody says otherwise (common practice, no source). */
export const USUAL_WISHES: Wishes = { target: 185, within: 20 };

interface Candidate {
  kind: ProposalKind;
  edit: Edit;
  pair: Pair | null;
  fadesWith: FadePlace | null;
  seam: SeamFigures | null;
  cost: number;
}

/** Seconds: a fade is a whole number of bars near this, within what records have (5 to 15 s, common practice). */
const FADE = { usual: 8, least: 5, most: 15 };
/** So many of each kind are shown. */
const SHOWN = 5;

/**
 * Edits of a song near the length wished for, best first: as it is, faded with a section or phrase, with one stretch left
 * out from a place to a like place, or both. Those that leave out a pinned moment are not proposed.
 */
export function shape(song: Shaped, wishes: Wishes): Proposal[] {
  const { plan } = song;
  const parts = formOf(plan);
  const features = song.features ? decodeFeatures(song.features) : null;
  const usual = features ? usualSteps(features, plan.grid) : null;
  const judge = judgeOf(plan, parts, wishes);
  const cuts = pairsOf(parts)
    .map((pair) => ({
      pair,
      cut: cutFor(pair),
      seam: features && usual ? seamFigures(features, plan.grid, usual, pair.from.at, pair.to.at) : null,
    }))
    // Two sections that begin at one moment have nothing between them to leave out.
    .filter(({ cut }) => cut.to > cut.from);
  const fades = fadePlaces(plan, parts, wishes);
  const found = [
    judge('own length', wholeSong, null, null, null),
    ...fades.map((place) => judge('fade', { ...wholeSong, end: fadeTo(plan, place.at) }, null, place, null)),
    ...cuts.map(({ pair, cut, seam }) => judge('splice', { ...wholeSong, cuts: [cut] }, pair, null, seam)),
    ...cuts.flatMap(({ pair, cut, seam }) =>
      fades
        .filter((place) => place.whole && place.at > pair.to.at + FADE.most)
        .map((place) => {
          const edit = { ...wholeSong, cuts: [cut], end: fadeTo(plan, place.at) };
          return judge('splice and fade', edit, pair, place, seam);
        }),
    ),
  ].filter((candidate) => keepsPins(candidate.edit, plan, wishes));
  const ranked = bestOfEach(found);
  if (song.samples && features && usual) measure(ranked, song.samples, features, usual, judge, plan);
  return ranked.sort((a, b) => a.cost - b.cost).map((candidate) => proposalOf(candidate, parts, plan));
}

type Judge = (
  kind: ProposalKind,
  edit: Edit,
  pair: Pair | null,
  fadesWith: FadePlace | null,
  seam: SeamFigures | null,
) => Candidate;

function judgeOf(plan: SongPlan, parts: Part[], wishes: Wishes): Judge {
  return (kind, edit, pair, fadesWith, seam) => {
    const { length } = compileEdit(edit, plan);
    const kept = cost.keptShares(parts, edit, plan.duration);
    const total =
      cost.kindCost(kind) +
      cost.lengthCost(length, wishes) +
      cost.missingCost(kind, parts, kept) +
      (fadesWith && parts[fadesWith.part] ? cost.fadeCost(parts[fadesWith.part]!, fadesWith.whole) : 0) +
      (pair ? cost.pairCost(pair) : 0) +
      (seam ? cost.seamCost(seam) : 0);
    return { kind, edit, pair, fadesWith, seam, cost: total };
  };
}

function cutFor({ from, to }: Pair): Cut {
  return seamBetween(from.at, to.at);
}

/** Ends of sections and of the phrases inside them, but for the end of the recording. */
function fadePlaces(plan: SongPlan, parts: Part[], { target }: Wishes): FadePlace[] {
  const places = parts.flatMap(({ phrases, end }, part) => [
    ...phrases.slice(1).map((at) => ({ at, part, whole: false })),
    { at: end, part, whole: true },
  ]);
  // A song of which no form is known can still be faded where the person wants it to end.
  if (parts.length === 0) places.push({ at: target, part: -1, whole: false });
  return places.filter(({ at }) => at > 2 * FADE.most && at < plan.duration - 1);
}

function fadeTo({ grid }: SongPlan, at: number): SongEnd {
  const bar = grid.beats.length > 1 ? barAt(grid, at) : FADE.usual;
  const bars = Math.max(1, Math.round(FADE.usual / bar));
  const length = Math.min(FADE.most, Math.max(FADE.least, bars * bar));
  const [end, whole] = [toMicros(at), toMicros(length)];
  const from = recordTime((end - whole) / 1e6);
  return { kind: 'fade', from, length: whole / 1e6, shape: 'linear', byHand: false };
}

function keepsPins(edit: Edit, plan: SongPlan, { pins = [] }: Wishes): boolean {
  const { toFloor } = compileEdit(edit, plan);
  return pins.every((pin) => toFloor(recordTime(pin)) !== null);
}

function bestOfEach(found: Candidate[]): Candidate[] {
  const seen = new Map<ProposalKind, number>();
  return found
    .sort((a, b) => a.cost - b.cost)
    .filter(({ kind }) => {
      const n = (seen.get(kind) ?? 0) + 1;
      seen.set(kind, n);
      return n <= SHOWN;
    });
}

/** Puts aligned cuts and measured figures in the place of those that came from the grid. */
function measure(
  ranked: Candidate[],
  samples: Samples,
  features: FeatureTable,
  usual: Usual,
  judge: Judge,
  plan: SongPlan,
): void {
  const known = new Map<Pair, ReturnType<typeof measureSeam>>();
  for (const [i, { kind, edit, pair, fadesWith }] of ranked.entries()) {
    if (!pair) continue;
    const seam =
      known.get(pair) ?? measureSeam(samples, features, plan.grid, usual, pair.from.at, pair.to.at);
    known.set(pair, seam);
    const { from, to, crossfade, beatErrorMs } = seam;
    const cut: Cut = { from, to, crossfade, ...(beatErrorMs === null ? {} : { beatErrorMs }) };
    ranked[i] = judge(kind, { ...edit, cuts: [cut] }, pair, fadesWith, seam);
  }
}

function proposalOf(
  { kind, edit, pair, fadesWith, seam }: Candidate,
  parts: Part[],
  plan: SongPlan,
): Proposal {
  const floorLength = compileEdit(edit, plan).length;
  const leftOut = leftOutOf(parts, edit, plan.duration);
  const figures = seam && {
    ...{ beatErrorMs: seam.beatErrorMs, levelStepLu: seam.levelStepLu },
    ...{ harmony: seam.harmony, timbre: seam.timbre },
  };
  const words = wordsFor(kind, parts, leftOut, floorLength, pair, fadesWith);
  return { kind, floorLength, edit, leftOut, seam: figures, words };
}
