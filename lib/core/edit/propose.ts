import type { Samples } from '../signal/samples.ts';
import { decodeFeatures } from '../song/features.ts';
import type { Grid } from '../song/grid.ts';
import type { Features } from '../song/recording.ts';
import { recordTime, toMicros } from '../units.ts';
import { compileEdit } from './compile.ts';
import type { Cut, Edit, SongEnd } from './edit.ts';
import { wholeSong } from './edit.ts';
import type { SongPlan } from './floorScore.ts';
import { type FadePlace, formOf, type Pair, type Part, pairsOf } from './form.ts';
import { mendedForm } from './mendedForm.ts';
import { beatBefore, joinsAtPickUp } from './pickUp.ts';
import { type LeftOut, leftOutOf, wordsFor } from './proposalWords.ts';
import type { ProposalKind, Wishes } from './ranking.ts';
import * as cost from './ranking.ts';
import {
  barAt,
  type Seam,
  type SeamFigures,
  type SeamFinder,
  seamBetween,
  seamFigures,
  seamFinder,
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
  /** The bar lines that the seam belongs to, seconds of record time. */
  lines: { from: number; to: number } | null;
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
 * out from a place to a like place, or both. None that goes against what the person insists on is proposed.
 */
export function shape(song: Shaped, wishes: Wishes): Proposal[] {
  const { plan } = song;
  const features = song.features ? decodeFeatures(song.features) : null;
  const usual = features ? usualSteps(features, plan.grid) : null;
  const form = formOf(plan);
  const parts = features && usual ? mendedForm(form, plan.grid, features, usual) : form;
  const judge = judgeOf(plan, parts, wishes);
  const cuts = pairsOf(parts)
    .map((bare) => {
      const pair = { ...bare, atPickUp: wordCrosses(bare, plan.grid, wishes) };
      const [from, to] = [pair.from.at, pair.to.at];
      const met = metBy(pair, plan.grid);
      const seam = features && usual ? seamFigures(features, plan.grid, usual, from, to) : null;
      return { pair, cut: seamBetween(met.from, met.to), seam };
    })
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
  ].filter(({ edit }) => cost.obeys(edit, parts, plan.duration, wishes));
  const ranked = bestOfEach(found);
  if (song.samples && features) {
    measure(ranked, seamFinder(song.samples, features, plan.grid), judge, parts, plan.grid);
  }
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
      (seam && pair ? cost.seamCost(seam, pair) : 0);
    return { kind, edit, pair, fadesWith, seam, cost: total };
  };
}

/** A word that must be heard begins in the beat before the line at which the music goes on. */
const wordCrosses = ({ to }: Pair, grid: Grid, { pins = [] }: Wishes): boolean =>
  pins.some((pin) => pin < to.at && pin >= beatBefore(grid, to.at));

/** Where a pair meets: at its bar lines, or a beat before them where words or notes lead into the part that follows. Seconds. */
const metBy = ({ from, to, atPickUp }: Pair, grid: Grid): { from: number; to: number } =>
  atPickUp ? { from: beatBefore(grid, from.at), to: beatBefore(grid, to.at) } : { from: from.at, to: to.at };

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
function measure(ranked: Candidate[], finder: SeamFinder, judge: Judge, parts: Part[], grid: Grid): void {
  const known = new Map<Pair, { pair: Pair; seam: Seam }>();
  const measured = (bare: Pair) => {
    const [from, to] = [bare.from.at, bare.to.at];
    const atLines = finder.find(from, to);
    const pair = { ...bare, atPickUp: bare.atPickUp || joinsAtPickUp(bare, parts, finder.leadingTo) };
    return { pair, seam: pair.atPickUp ? finder.find(from, to, metBy(pair, grid)) : atLines };
  };
  for (const [i, { kind, edit, pair: bare, fadesWith }] of ranked.entries()) {
    if (!bare) continue;
    const { pair, seam } = known.get(bare) ?? measured(bare);
    known.set(bare, { pair, seam });
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
  const lines = pair && { from: pair.from.at, to: pair.to.at };
  return { kind, floorLength, edit, leftOut, seam: figures, lines, words };
}
