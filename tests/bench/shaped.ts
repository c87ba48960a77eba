import { usualPhraseBars } from '../../lib/core/areas/score.ts';
import { compileEdit } from '../../lib/core/edit/compile.ts';
import type { Edit } from '../../lib/core/edit/edit.ts';
import type { SongPlan } from '../../lib/core/edit/floorScore.ts';
import { type Proposal, shape } from '../../lib/core/edit/propose.ts';
import type { Wishes } from '../../lib/core/edit/ranking.ts';
import { renderRange } from '../../lib/core/edit/render.ts';
import { beatErrorAt } from '../../lib/core/edit/seam.ts';
import { Spectrum } from '../../lib/core/signal/fft.ts';
import { mixdown, type Samples } from '../../lib/core/signal/samples.ts';
import { hann } from '../../lib/core/signal/window.ts';
import { kindOfLabel, type LabelledStretch } from '../../lib/core/song/annotation.ts';
import { gridFrom, gridFromBeats } from '../../lib/core/song/correct.ts';
import type { Grid } from '../../lib/core/song/grid.ts';
import type { Listening } from '../../lib/core/song/listen.ts';
import type { Section } from '../../lib/core/song/section.ts';
import { floorTime, recordTime, wholeMicros } from '../../lib/core/units.ts';

/** How a song is shaped, held against what is true of it. Times are seconds of record time. */

/** What is true of a song of nine parts. */
export interface TrueSong {
  beats: readonly number[];
  positions: readonly number[];
  bars: readonly number[];
  sections: readonly LabelledStretch[];
}

/** The two edits of common practice: gone by the end of the second chorus; second chorus and bridge left out. */
export interface Practice {
  fade: number;
  from: number;
  to: number;
}

/** null where the song has not its bridge between its second and third of three choruses. */
export function practiceOf({ sections }: TrueSong): Practice | null {
  const kinds = sections.map(({ label }) => kindOfLabel(label));
  const choruses = kinds.flatMap((kind, i) => (kind === 'chorus' ? [i] : []));
  const [second, third] = [choruses[1], choruses[2]];
  if (choruses.length !== 3 || second === undefined || third === undefined) return null;
  if (third !== second + 2 || kinds[second + 1] !== 'bridge') return null;
  return { fade: sections[second]!.end, from: sections[second]!.start, to: sections[third]!.start };
}

/** The target is the mean of the two edits' lengths, and both are well within what is still fine. */
export function wishesFor({ fade, from, to }: Practice, duration: number): Wishes {
  const splice = duration - (to - from);
  return { target: (fade + splice) / 2, within: Math.max(20, Math.abs(fade - splice) / 2 + 10) };
}

/** As the program heard it. */
export function heardPlan(heard: Listening, { rate }: Samples): SongPlan {
  const sections = heard.sections.map(({ start, kind, like }, i) => section(i, start, kind, like));
  return planWith(gridFrom(heard), sections, heard, rate);
}

/** With a person's beats and sections. */
export function givenPlan(
  heard: Listening,
  { rate }: Samples,
  { beats, positions, sections }: TrueSong,
): SongPlan {
  const grid = gridFromBeats(beats, positions, heard.metre.subdivision);
  const given = sections.map(({ start, label }, i) => section(i, wholeMicros(start), kindOfLabel(label), ''));
  return planWith(grid, given, heard, rate);
}

const section = (i: number, start: number, kind: Section['kind'], like: string): Section => ({
  ...{ id: `s${i}`, start: recordTime(start), kind, like, name: '', phraseBars: null, confirmedBy: null },
});

function planWith(grid: Grid, sections: Section[], heard: Listening, rate: number): SongPlan {
  const { firstSound, lastSound } = heard;
  const duration = Math.round(heard.duration * rate) / rate;
  return { grid, sections, phraseBars: usualPhraseBars(grid), duration, firstSound, lastSound };
}

/** Reach within which a time is that of a true beat or bar line, as beats are judged (Dixon 2007), and of a section. */
const SAME_BEAT = 0.07;
const SAME_SECTION = 0.5;

export interface Judged {
  /** Milliseconds of the search for all proposals. */
  took: number;
  /** Places of the two edits of common practice among all proposals, from 0; -1 for none. */
  fadeAt: number;
  spliceAt: number;
  /** The first of its kind is that edit. */
  fadeFirst: boolean;
  spliceFirst: boolean;
  /** Of the first splice: both of its bar lines are true ones; both are true beginnings of sections. */
  onBars: boolean;
  onSections: boolean;
  seam: JudgedSeam | null;
}

export interface JudgedSeam {
  /** Milliseconds by which the true beat after the seam comes late, and what the program says of it. */
  error: number;
  said: number | null;
  /** The same for the seam moved by 20 and 50 ms. */
  moved: { error: number; said: number | null }[];
  /** Largest step from sample to sample at the seam over the largest within a quarter of a second around it. */
  step: number;
  /** dB by which the high frequencies at the seam are above the most around it. */
  burst: number;
}

/** @param moving whether its seam is moved as well */
export function judge(
  plan: SongPlan,
  heard: Listening,
  samples: Samples,
  truth: TrueSong,
  practice: Practice,
  moving: boolean,
): Judged {
  const wishes = wishesFor(practice, plan.duration);
  const began = performance.now();
  const proposals = shape({ plan, features: heard.features, samples }, wishes);
  const took = performance.now() - began;
  const isFade = (p: Proposal) =>
    p.kind === 'fade' && Math.abs(compileEdit(p.edit, plan).length - practice.fade) < SAME_SECTION;
  const isSplice = (p: Proposal) => {
    if (p.kind !== 'splice' || !p.lines) return false;
    const { from, to } = p.lines;
    return Math.abs(from - practice.from) < SAME_SECTION && Math.abs(to - practice.to) < SAME_SECTION;
  };
  const first = (kind: Proposal['kind']) => proposals.find((p) => p.kind === kind);
  const [fade, splice] = [first('fade'), first('splice')];
  const lines = splice?.lines;
  const onLine = (at: number) => Math.abs(at - nearest(truth.bars, at)) < SAME_BEAT;
  const starts = truth.sections.map(({ start }) => start);
  const onSection = (at: number) => Math.abs(at - nearest(starts, at)) < SAME_SECTION;
  return {
    took,
    fadeAt: proposals.findIndex(isFade),
    spliceAt: proposals.findIndex(isSplice),
    fadeFirst: fade !== undefined && isFade(fade),
    spliceFirst: splice !== undefined && isSplice(splice),
    onBars: lines ? onLine(lines.from) && onLine(lines.to) : false,
    onSections: lines ? onSection(lines.from) && onSection(lines.to) : false,
    seam: splice ? judgeSeam(splice, plan, samples, truth.beats, moving) : null,
  };
}

function judgeSeam(
  { edit, seam }: Proposal,
  plan: SongPlan,
  samples: Samples,
  beats: readonly number[],
  moving: boolean,
): JudgedSeam {
  const { from, to } = edit.cuts[0]!;
  const moved = (moving ? [20, -50] : []).map((ms) => {
    const place = to + ms / 1000;
    const said = beatErrorAt(samples, plan.grid, from, place);
    return {
      error: beatError({ ...edit, cuts: [{ ...edit.cuts[0]!, to: recordTime(place) }] }, beats),
      said: said === null ? null : 1000 * said,
    };
  });
  return {
    error: beatError(edit, beats),
    said: seam?.beatErrorMs ?? null,
    moved,
    ...soundAtSeam(samples, edit, from),
  };
}

/**
 * Milliseconds by which the true beat after the seam comes late, against the mean of the beat before it and the one after it. The
 * true beat nearest to either side of the seam is the one that goes over it, though it may lie a little before it or after it.
 */
function beatError({ cuts }: Edit, beats: readonly number[]): number {
  const { from, to } = cuts[0]!;
  const a = beats.indexOf(nearest(beats, from)) - 1;
  const b = beats.indexOf(nearest(beats, to));
  const [before, after] = [(beats[a]! - beats[a - 2]!) / 2, (beats[b + 2]! - beats[b]!) / 2];
  const across = from - beats[a]! + (beats[b]! - to);
  return 1000 * (across - (before + after) / 2);
}

const AROUND = 0.25;
/** Samples of a transform and from one to the next, and hertz from which frequencies are high. */
const [WINDOW, STEP, HIGH] = [256, 64, 5000];

/** What the ear may catch at the seam itself, in its crossfade and three milliseconds about it, beside the music around. */
function soundAtSeam(samples: Samples, edit: Edit, seam: number): Pick<JudgedSeam, 'step' | 'burst'> {
  const { rate } = samples;
  const made = renderRange(samples, edit, floorTime(seam - AROUND - 0.03), floorTime(seam + AROUND));
  if (!made.ok) throw new Error(made.problem.sentence);
  const at = Math.round((AROUND + 0.03) * rate);
  const [begins, ends] = [at - Math.round(0.033 * rate), at + Math.round(0.003 * rate)];
  let [inside, outside] = [0, 0];
  for (const channel of made.value.channels) {
    for (let i = 1; i < channel.length; i++) {
      const step = Math.abs(channel[i]! - channel[i - 1]!);
      if (i > begins && i <= ends) inside = Math.max(inside, step);
      else outside = Math.max(outside, step);
    }
  }
  const mono = mixdown(made.value);
  const spectrum = new Spectrum(WINDOW, hann(WINDOW));
  const power = new Float32Array(WINDOW / 2 + 1);
  const lowest = Math.ceil((HIGH * WINDOW) / rate);
  let [high, around] = [0, 1e-12];
  for (let i = 0; i + WINDOW <= mono.length; i += STEP) {
    spectrum.powers(mono, i, power);
    const sum = power.subarray(lowest).reduce((a, b) => a + b, 0);
    if (i + WINDOW / 2 > begins && i + WINDOW / 2 <= ends) high = Math.max(high, sum);
    else around = Math.max(around, sum);
  }
  return { step: inside / Math.max(outside, 1e-9), burst: 10 * Math.log10((high + 1e-12) / around) };
}

function nearest(times: readonly number[], at: number): number {
  return times.reduce(
    (best, time) => (Math.abs(time - at) < Math.abs(best - at) ? time : best),
    Number.POSITIVE_INFINITY,
  );
}
