import { beforeAll, describe, expect, it } from 'vitest';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { solveEnding } from '../../../lib/core/dance/ending.ts';
import { compileEdit } from '../../../lib/core/edit/compile.ts';
import { type Proposal, shape } from '../../../lib/core/edit/propose.ts';
import { render } from '../../../lib/core/edit/render.ts';
import { gridFrom } from '../../../lib/core/song/correct.ts';
import { listen } from '../../../lib/core/song/listen.ts';
import type { Section, SectionKind } from '../../../lib/core/song/section.ts';
import { floorTime, recordTime, wholeMicros } from '../../../lib/core/units.ts';
import { cueAt, endingOn, libraryMove, planOf } from '../../kit/board.ts';
import { type Synthesised, synth } from '../../kit/synth.ts';

const BPM = 112;
const COUNT = 60 / BPM;
const parts: [kind: SectionKind, bars: number, like: string, level: number, chords: string[]][] = [
  ['intro', 4, 'A', 0.5, ['0', '5', '0', '7']],
  ['verse', 8, 'B', 0.6, ['0', '7', '9m', '5']],
  ['pre-chorus', 4, 'C', 0.7, ['2m', '5', '2m', '7']],
  ['chorus', 8, 'D', 1, ['5', '0', '7', '9m']],
  ['verse', 8, 'B', 0.6, ['0', '7', '9m', '5']],
  ['pre-chorus', 4, 'C', 0.7, ['2m', '5', '2m', '7']],
  ['chorus', 8, 'D', 1, ['5', '0', '7', '9m']],
  ['bridge', 4, 'E', 0.6, ['2m', '4m', '5', '7']],
  ['chorus', 8, 'D', 1, ['5', '0', '7', '9m']],
];
const closing = ['rumba-open-break', 'rumba-close-in', 'lean-four'].map(libraryMove);
/** Counts from where the ending is led to where it lands, from the moves' own lengths. */
const COUNTS_BEFORE =
  closing[0]!.preparation + closing[0]!.counts + closing[1]!.counts + closing[2]!.landsOn! - 1;

/**
 * A song that is rendered to sound, heard and shaped as a couple's own; what is held against it is what the synthesiser knows, not
 * what was heard. The sections' starts are put right as a person would, on bar lines that were heard.
 */
describe('the landing on a rendered song', () => {
  let song: Synthesised;
  let heard: Plan;
  let edits: Record<'fade' | 'splice', Proposal>;

  beforeAll(() => {
    const sections = parts.map(([, bars, like, level, chords]) => ({ bars, like, level, chords }));
    song = synth({ bpm: BPM, beats: 4, subdivision: 2, sections, lead: 0.6 });
    const { samples } = song;
    const listening = listen(samples);
    if (!listening.ok) throw new Error(listening.problem.code);
    const { features, lastSound, bars } = listening.value;
    const grid = gridFrom(listening.value);
    const nearest = (at: number) =>
      bars.reduce((best, bar) => (Math.abs(bar - at) < Math.abs(best - at) ? bar : best));
    const named: Section[] = song.sections.map(({ start }, i) => ({
      ...{ id: `s${i}`, start: nearest(start), name: '', phraseBars: null, confirmedBy: null },
      ...{ kind: parts[i]![0], like: parts[i]![2] },
    }));
    const duration = wholeMicros(samples.channels[0]!.length / samples.rate);
    const plan = { grid, sections: named, phraseBars: 4, duration, lastSound };
    const kept = 44 * 4 * COUNT;
    const proposals = shape({ plan, features, samples }, { target: kept, within: 12 });
    const best = (kind: Proposal['kind']) => proposals.find((one) => one.kind === kind)!;
    edits = { fade: best('fade'), splice: best('splice') };
    const base = planOf();
    heard = {
      ...base,
      ...{ grid, sections: named, features, moves: closing },
      recording: { ...base.recording!, duration },
      heard: { ...base.heard!, lastSound },
    };
  }, 60_000);

  /** Lands on a bar line that the synthesiser knows, given in seconds of the recording, with a word two seconds before it is led. */
  function land(kind: 'fade' | 'splice', target: number) {
    const { edit } = edits[kind];
    const compiled = compileEdit(edit, heard.recording!);
    const floor = compiled.toFloor(recordTime(wholeMicros(target)))!;
    const led = floor - COUNTS_BEFORE * COUNT;
    const plan: Plan = {
      ...{ ...heard, edit },
      cues: [
        cueAt('before', compiled.toRecord(floorTime(led - 2)), 'homeward'),
        cueAt('far', compiled.toRecord(floorTime(led - 14)), 'lanterns'),
      ],
      ending: endingOn(
        target,
        closing.map(({ id }) => id),
      ),
    };
    const solved = solveEnding(plan, boardScore(plan)!);
    if (!solved.ok) throw new Error(solved.problem.code);
    return { solved: solved.value, floor, led, edit };
  }

  function holds({ solved, floor, led }: ReturnType<typeof land>) {
    expect(Math.abs(solved.landing.floor - floor)).toBeLessThan(COUNT / 2);
    expect(Math.abs(solved.led.floor - led)).toBeLessThan(COUNT / 2);
    expect(solved.landing.count - solved.led.count).toBe(COUNTS_BEFORE);
    expect(solved.signal?.cue.word).toBe('homeward');
    expect(solved.words).toContain('Listen for “homeward”');
    expect(solved.signal!.before).toBeCloseTo(2, 0);
  }

  const barsFrom = (section: number, bars: number) => song.sections[section]!.start + bars * 4 * COUNT;

  // Common practice, no source: the fade at the end of the second chorus.
  it('under the fade that ends the second chorus, as loud as it says', () => {
    const { end } = edits.fade.edit;
    if (end.kind !== 'fade') throw new Error('no fade');
    const target = song.bars.find((bar) => bar > end.from + end.length / 3)!;
    const landed = land('fade', target);
    holds(landed);
    // Held against the sound itself: the rendered fade beside the recording, a quarter second about the landing.
    const played = render(song.samples, landed.edit);
    if (!played.ok) throw new Error(played.problem.code);
    const { rate } = song.samples;
    const power = (x: Float32Array, at: number) =>
      x
        .subarray(Math.round((at - 0.125) * rate), Math.round((at + 0.125) * rate))
        .reduce((sum, v) => sum + v * v, 0);
    const db =
      10 *
      Math.log10(power(played.value.channels[0]!, landed.floor) / power(song.samples.channels[0]!, target));
    expect(db).toBeLessThan(-1);
    expect(Math.abs(landed.solved.audibleDb! - db)).toBeLessThan(0.5);
  });

  // Common practice, no source: second chorus and bridge left out, the song's own ending kept.
  it('on the own ending after the splice, at full level', () => {
    const landed = land('splice', barsFrom(8, 6));
    expect(edits.splice.edit.cuts.length).toBe(1);
    holds(landed);
    expect(landed.solved.audibleDb).toBeNull();
  });

  it('right after the seam, led before it', () => {
    const { to } = edits.splice.edit.cuts[0]!;
    const target = song.bars.find((bar) => bar > to + 3 * COUNT)!;
    const landed = land('splice', target);
    holds(landed);
    const seam = boardScore({ ...heard, edit: edits.splice.edit })!.seams[0]!;
    expect(landed.solved.led.floor).toBeLessThan(seam.floor);
    expect(landed.solved.landing.floor).toBeGreaterThan(seam.floor);
  });
});
