import { describe, expect, it } from 'vitest';
import { djFacts } from '../../../lib/core/agreed/dj.ts';
import { entryFacts } from '../../../lib/core/agreed/entry.ts';
import type { Board } from '../../../lib/core/areas/board.ts';
import { boardScore } from '../../../lib/core/areas/score.ts';
import { compareImprints } from '../../../lib/core/compare/compare.ts';
import { imprintOf } from '../../../lib/core/compare/imprint.ts';
import { mayStartOn } from '../../../lib/core/dance/counts.ts';
import { solveEnding } from '../../../lib/core/dance/ending.ts';
import type { Edit } from '../../../lib/core/edit/edit.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { render } from '../../../lib/core/edit/render.ts';
import { lengthOf, type Samples } from '../../../lib/core/signal/samples.ts';
import { recordTime } from '../../../lib/core/units.ts';
import { movesVtt } from '../../../lib/export/vtt.ts';
import {
  barAt,
  boardOf,
  cueAt,
  cutOut,
  endingOn,
  fadeAt,
  gridOf,
  libraryMove,
  type SongSpec,
} from '../../kit/board.ts';
import { later, song } from '../compare/songs.ts';

const RATE = 8000;
/** Nine parts of 3/4 at 90: bar 100 begins at 200 s. The pose's word is sung there. */
const spec: SongSpec = {};
const word = barAt(100);
const boardWith = (edit: Edit, more = {}): Board =>
  boardOf(spec, {
    edit,
    moves: ['waltz-box', 'dip-three'].map(libraryMove),
    cues: [cueAt('w', word, 'homeward')],
    ending: {
      ...endingOn(word, ['dip-three']),
      target: { kind: 'cue word', at: recordTime(word), cue: 'w' },
    },
    ...more,
  });

/** A quiet hum with one click, at the word. */
function humWithClick(seconds: number): Samples {
  const x = Float32Array.from({ length: seconds * RATE }, (_, i) => 0.01 * Math.sin(i / 5));
  x[Math.round(word * RATE)] = 1;
  return { rate: RATE, channels: [x] };
}
const loudest = ({ channels }: Samples): number => {
  const x = channels[0]!;
  return x.reduce((best, v, i) => (Math.abs(v) > Math.abs(x[best]!) ? i : best), 0);
};

describe('the closing pose lands in the sound where every page says', () => {
  const edits: [string, Edit][] = [
    ['of the whole song', wholeSong],
    ['after a join', cutOut(barAt(40), barAt(64))],
    [
      'after a later start and two joins',
      {
        ...cutOut(barAt(40), barAt(64)),
        start: recordTime(3.5),
        cuts: [...cutOut(barAt(20), barAt(28)).cuts, ...cutOut(barAt(40), barAt(64)).cuts],
      },
    ],
    ['under a fade after a join', { ...cutOut(barAt(40), barAt(64)), end: fadeAt(word - 2, 8).end }],
  ];
  it.each(edits)('%s', (_, edit) => {
    const board = boardWith(edit);
    const { duration } = board.plan.recording!;
    const played = render(humWithClick(duration), edit);
    if (!played.ok) throw new Error(played.problem.sentence);
    const heard = loudest(played.value) / RATE;
    const solved = solveEnding(board.plan, boardScore(board.plan)!);
    if (!solved.ok) throw new Error(solved.problem.sentence);
    // To the sample, but for the rounding of the join to one.
    const within = 1.01 / RATE;
    expect(Math.abs(solved.value.landing.floor - heard)).toBeLessThanOrEqual(within);
    const dj = djFacts(board, 1, 'finished file');
    expect(Math.abs(dj.closingPose!.at - heard)).toBeLessThanOrEqual(within);
    expect(lengthOf(played.value) / RATE + 1).toBeCloseTo(dj.fileLength, 3);
    const pose = entryFacts(board).moments.find(({ what }) => what.startsWith('closing pose'))!;
    expect(Math.abs(pose.floor - heard)).toBeLessThanOrEqual(within);
    const shown = /(\d\d):(\d\d):(\d\d\.\d{3}) --> [^\n]+\n“homeward”/.exec(movesVtt(board.plan, 'floor'))!;
    expect(Math.abs(60 * Number(shown[2]) + Number(shown[3]) - heard)).toBeLessThanOrEqual(within + 0.0005);
    expect(djFacts(board, 1, 'own copy').closingPose!.at).toBeCloseTo(word, 6);
  });

  it('at another speed every time is as much sooner', () => {
    const edit = cutOut(barAt(40), barAt(64));
    const at = (speed: number) => djFacts(boardWith({ ...edit, speed }), 1, 'finished file');
    expect(at(1.1).closingPose!.at * 1.1).toBeCloseTo(at(1).closingPose!.at, 6);
    expect((at(1.1).fileLength - 1) * 1.1).toBeCloseTo(at(1).fileLength - 1, 6);
  });
});

describe('a DJ’s own copy that begins a second later', () => {
  it('shifts every time by that second, as the comparison of the sound finds it', () => {
    const ours = song(3);
    const found = compareImprints(imprintOf(ours), imprintOf(later(ours, 1)));
    const { verdict, offsetMs, ratio, confidence } = found;
    expect(verdict).toBe('shifted');
    const edit = cutOut(barAt(40), barAt(64), { start: recordTime(2) });
    const board = boardWith(edit);
    const copy = { verdict, offsetMs, ratio, confidence, at: '2027-01-01T00:00:00.000Z' as const };
    const of = (given: typeof copy | null) =>
      djFacts({ ...board, answer: { ...board.answer!, plays: 'own copy', copy: given } }, 1);
    const [before, after] = [of(null), of(copy)];
    const times = (dj: typeof before) => [
      dj.start.at,
      ...dj.joins.flatMap(({ leave, goOn }) => [leave, goOn]),
      dj.closingPose!.at,
      dj.ringTo,
      ...dj.byEar.map(({ at }) => at),
    ];
    expect(after.clockOf).toBe('your own copy');
    for (const [i, at] of times(after).entries())
      expect(Math.abs(at - times(before)[i]! - 1)).toBeLessThan(0.005);
  });
});

describe('counts that meet the bar again', () => {
  // Worked example 3 (arithmetic): six counts meet the bar of four after 12 beats; an eight-count phrase after 24.
  it('a figure of six starts on every second count of four: twice six, and the one comes round', () => {
    const grid = gridOf({ beatsPerBar: 4 });
    const six = { ...libraryMove('foxtrot-basic'), startsOn: 1 };
    expect(six.counts).toBe(6);
    expect([0, 1, 2, 3].map((inBar) => mayStartOn(six, inBar, grid))).toEqual([true, false, true, false]);
    // Danced on and on from the first count, in phrases of two bars.
    const { counts } = boardScore(boardOf({ beatsPerBar: 4 }, { phraseBars: 2 }).plan)!;
    const starts = counts.filter((_, i) => i > 0 && i % six.counts === 0);
    expect(starts.find(({ inBar }) => inBar === 0)!.index).toBe(12);
    expect(starts.find(({ inPhrase }) => inPhrase === 0)!.index).toBe(24);
  });

  // Worked example 1 (arithmetic): 32 bars of 3/4 at 84 are 68.571 s, 3,024,000 samples at 44.1 kHz.
  it('32 bars of three at 84, rendered, are 3,024,000 samples', () => {
    const silence: Samples = { rate: 44_100, channels: [new Float32Array(80 * 44_100)] };
    const end = barAt(32, { bpm: 84 });
    expect(end).toBeCloseTo(68.571, 3);
    const played = render(silence, { ...wholeSong, cuts: cutOut(end, 80).cuts });
    expect(played.ok && lengthOf(played.value)).toBe(3_024_000);
  });
});
