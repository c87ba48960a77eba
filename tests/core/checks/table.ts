import type { Board } from '../../../lib/core/areas/board.ts';
import { changePlan } from '../../../lib/core/areas/change.ts';
import type { Plan } from '../../../lib/core/areas/plan.ts';
import { checkBoard } from '../../../lib/core/checks/checkBoard.ts';
import type { Finding } from '../../../lib/core/checks/finding.ts';
import type { Thing } from '../../../lib/core/dance/floor.ts';
import type { Move } from '../../../lib/core/dance/move.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { digestOf } from '../../../lib/core/edit/digest.ts';
import { wholeSong } from '../../../lib/core/edit/edit.ts';
import { toBase64 } from '../../../lib/core/signal/base64.ts';
import {
  barAt,
  boardOf,
  cueAt,
  cutOut,
  endingOn,
  fadeAt,
  gridOf,
  libraryMove,
  micros,
  placed,
  sectionsOf,
} from '../../kit/board.ts';

const today = '2027-01-10' as const;

type Row = [rule: string, accepted: Board, refused: Board, fixed: boolean];
/** The same board, some days before its party. */
const soon = (board: Board): Board => ({ ...board, plan: { ...board.plan, date: '2027-02-01' } });
const four = { beatsPerBar: 4, bpm: 100 } as const;
const threes = [
  'waltz-box',
  'waltz-underarm',
  'waltz-left-box',
  'waltz-whisk',
  'waltz-chasse',
  'waltz-progressive',
  'lean-three',
  'dip-three',
].map(libraryMove);
const fours = [
  'foxtrot-basic',
  'foxtrot-box',
  'foxtrot-underarm',
  'rumba-open-break',
  'rumba-close-in',
  'lean-four',
].map(libraryMove);

const waltz = (more: Partial<Plan> = {}, areas: Partial<Board> = {}): Board => ({
  ...boardOf({}, { moves: threes, ...more }),
  ...areas,
});
const fox = (more: Partial<Plan> = {}): Board => boardOf(four, { moves: fours, ...more });
const empty = boardOf();
const walk = { ...usualWalkOn, firstStep: micros(barAt(8)) };
const recording = empty.plan.recording!;
const answer = (more: object) => ({
  id: 'a1',
  kind: 'yes' as const,
  at: '2027-01-02T10:00:00.000Z' as const,
  by: 'Rae',
  plays: 'finished file' as const,
  digest: digestOf(wholeSong, recording),
  edit: wholeSong,
  words: '',
  proposal: null,
  ...more,
});
const momentOf = (recording: string) => ({
  show: {
    ...empty.show!,
    moments: [{ id: 'm', at: micros(60), who: 'MC', what: 'silent', recording }],
  },
});
const djSaid = (more: object) => ({ answer: { ...empty.answer!, answers: [answer(more)] } });
const copyIs = (verdict: 'same' | 'another recording') => ({
  answer: {
    ...empty.answer!,
    plays: 'own copy' as const,
    copy: { verdict, offsetMs: 0, ratio: 1, confidence: 1, at: '2027-01-03T10:00:00.000Z' as const },
  },
});
/** Features of a song in which everything before `from` seconds is one sound, and after it another. */
function twoSounds(from: number, seconds: number) {
  const frames = Math.ceil(seconds / 0.25);
  const is = (i: number) => i * 0.25 >= from;
  const row = (i: number, width: number) =>
    Array.from({ length: width }, (_, k) => ((k % 2 === 0) === is(i) ? 240 : 10));
  const all = Array.from({ length: frames }, (_, i) => i);
  return {
    frame: 0.25,
    loudness: toBase64(Uint8Array.from(all, (i) => (is(i) ? 230 : 190))),
    chroma: toBase64(Uint8Array.from(all.flatMap((i) => row(i, 12)))),
    timbre: toBase64(Uint8Array.from(all.flatMap((i) => row(i, 6)))),
  };
}
// The sound changes in bar 90, the cut leaps over that place, and the song's other bars are all alike.
const leap = { features: twoSounds(barAt(60), 240), edit: cutOut(barAt(48), barAt(88)) };
const smooth = { features: twoSounds(999, 240), edit: cutOut(barAt(48), barAt(88)) };
/** Something is played at every other frame up to a bar; then it rings on and dies away. */
export function playedUntil(bar: number) {
  const last = barAt(bar) / 0.25;
  const loudness = Uint8Array.from({ length: 912 }, (_, i) =>
    i <= last + 1 ? 200 + 15 * (i % 2) : Math.max(0, 215 - 3 * (i - last)),
  );
  const silent = (width: number) => toBase64(new Uint8Array(912 * width));
  return { features: { frame: 0.25, loudness: toBase64(loudness), chroma: silent(12), timbre: silent(6) } };
}
const slow = { bpm: 72 };
const measured = (beatErrorMs: number): Board => {
  const edit = cutOut(barAt(48, slow), barAt(88, slow));
  return boardOf(slow, {
    moves: threes,
    edit: { ...edit, cuts: edit.cuts.map((cut) => ({ ...cut, beatErrorMs })) },
  });
};
const inFinal = (facts: Record<string, string>, digest = 'b'.repeat(64)) => ({
  show: {
    ...empty.show!,
    time: '19:30' as const,
    final: { digest, at: '2027-01-01T00:00:00.000Z' as const, by: 'Kim', facts },
  },
});
const floorOf = (width: number, surface = '') => ({
  show: { ...empty.show!, floor: { width, depth: 6, surface, obstacles: '', guests: '' } },
});
/** Boxes all through, from one place of a floor on which things stand. */
const onFloor = (
  beginsAt: Plan['beginsAt'],
  things: Pick<Thing, 'kind' | 'x' | 'y' | 'across'>[] = [],
  width = 6,
  more: Partial<Plan> = {},
): Board => {
  const { floor } = floorOf(width).show;
  const all = things.map((thing, i) => ({ id: `t${i}`, name: '', ...thing }));
  const show = { ...empty.show!, floor: { ...floor, things: all } };
  return waltz({ beginsAt, stride: 0.5, ending: endingOn(barAt(108), ['lean-three']), ...more }, { show });
};
const middle = { x: 3, y: 3, facing: 2 };
/** A waltz with a lift of the couple's own in it. */
const lift: Move = { ...libraryMove('waltz-underarm'), id: 'own-lift', name: 'Lift', cautions: ['lift'] };
const lifted = (more: Partial<Plan>, areas: Partial<Board> = {}): Board =>
  waltz({ moves: [...threes, lift], placed: [placed('a', 'own-lift', barAt(24))], ...more }, areas);
const momentAt = (bar: number) => ({
  show: {
    ...empty.show!,
    moments: [{ id: 'm', at: micros(barAt(bar)), who: 'lights', what: 'lights down' }],
  },
});
const learned = threes.map(({ id }) => ({ id, level: 3 as const, at: '2027-01-01T00:00:00.000Z' as const }));
const lessons = (readiness: typeof learned) => ({ lessons: { ...empty.lessons!, readiness } });

/** The waltz's grid, whose beats from a moment on come this much closer. */
const faster = (from: number, by: number) => ({
  ...gridOf(),
  beats: gridOf().beats.map((beat) => (beat > from ? micros(from + (beat - from) * by) : beat)),
});
/** A waltz of more than four and a half minutes. */
const long = (more: Partial<Plan>): Board =>
  boardOf(
    {
      form: [
        ['intro', 8],
        ['verse', 32],
        ['chorus', 24],
        ['verse', 32],
        ['chorus', 32],
        ['outro', 10],
      ],
    },
    { moves: threes, ...more },
  );

/** A rule, a board that it accepts, one that it refuses, and whether a fix is offered there. */
export const table: Row[] = [
  ['no-grid', waltz(), { ...waltz(), plan: { ...waltz().plan, grid: null } }, false],
  [
    'grid-not-confirmed',
    waltz(),
    waltz({ grid: { ...gridOf(), confirmedBy: { metre: 'Marta', beats: null, bars: null } } }),
    false,
  ],
  [
    'sections-not-confirmed',
    waltz(),
    waltz({ sections: sectionsOf().map((s, i) => (i > 6 ? { ...s, confirmedBy: null } : s)) }),
    false,
  ],
  [
    'section-off-bar',
    waltz(),
    waltz({ sections: sectionsOf().map((s, i) => (i === 2 ? { ...s, start: micros(s.start + 0.3) } : s)) }),
    true,
  ],
  [
    'odd-phrase',
    waltz(),
    boardOf({
      form: [
        ['verse', 13],
        ['chorus', 16],
      ],
    }),
    false,
  ],
  [
    'length-outside',
    waltz({ target: { length: 228, within: 20 } }),
    waltz({ target: { length: 160, within: 20 } }),
    true,
  ],
  ['length-open', long({ target: { length: 185, within: 20 } }), long({}), true],
  [
    'tempo-changes',
    // Bars 84 on, from 168 s, are 5 and 8 % faster.
    waltz({ grid: faster(168, 0.95) }),
    waltz({ grid: faster(176, 0.92) }),
    false,
  ],
  [
    'seam-off-bar',
    waltz({ edit: cutOut(barAt(48), barAt(88)) }),
    waltz({ edit: cutOut(barAt(48), barAt(88) + 0.667) }),
    true,
  ],
  [
    'seam-tempo',
    waltz({ edit: cutOut(barAt(48), barAt(88)) }),
    waltz({
      edit: cutOut(barAt(48), 168),
      // Bars 84 on, from 168 s, are 8 % faster.
      grid: {
        ...gridOf(),
        beats: gridOf().beats.map((beat) => (beat > 168 ? micros(168 + (beat - 168) * 0.92) : beat)),
      },
    }),
    false,
  ],
  // Worked example: at 72 beats a minute 2.5 % of the interval are 20.8 ms.
  ['seam-beat', measured(20.8), measured(20.9), false],
  ['seam-level', waltz(smooth), waltz(leap), false],
  ['seam-key', waltz(smooth), waltz(leap), false],
  ['seam-timbre', waltz(smooth), waltz(leap), false],
  [
    'seam-in-word',
    waltz({ edit: cutOut(barAt(48), barAt(88)), cues: [cueAt('c', barAt(48) - 1, 'until')] }),
    waltz({ edit: cutOut(barAt(48), barAt(88)), cues: [cueAt('c', barAt(48) - 0.2, 'until')] }),
    true,
  ],
  [
    'several-seams',
    waltz({ edit: cutOut(barAt(48), barAt(88)) }),
    waltz({
      edit: {
        ...wholeSong,
        cuts: [...cutOut(barAt(32), barAt(40)).cuts, ...cutOut(barAt(48), barAt(88)).cuts],
      },
    }),
    false,
  ],
  ['fade-off-phrase', waltz({ edit: fadeAt(barAt(84), 8) }), waltz({ edit: fadeAt(barAt(85), 8) }), true],
  ['fade-length', waltz({ edit: fadeAt(barAt(84), 8) }), waltz({ edit: fadeAt(barAt(87), 2) }), true],
  [
    'move-removed',
    waltz({ edit: cutOut(barAt(48), barAt(88)), placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    waltz({ edit: cutOut(barAt(48), barAt(88)), placed: [placed('a', 'waltz-underarm', barAt(64))] }),
    true,
  ],
  [
    'cue-removed',
    waltz({ edit: cutOut(barAt(48), barAt(88)), cues: [cueAt('c', barAt(24), 'slowly')] }),
    waltz({ edit: cutOut(barAt(48), barAt(88)), cues: [cueAt('c', barAt(64), 'slowly')] }),
    false,
  ],
  [
    'signal-removed',
    waltz({
      edit: cutOut(barAt(48), barAt(88)),
      cues: [cueAt('c', barAt(24), 'slowly')],
      ending: endingOn(barAt(108), ['lean-three'], { signal: 'c' }),
    }),
    waltz({
      edit: cutOut(barAt(48), barAt(88)),
      cues: [cueAt('c', barAt(64), 'slowly')],
      ending: endingOn(barAt(108), ['lean-three'], { signal: 'c' }),
    }),
    true,
  ],
  [
    'first-step-removed',
    waltz({ edit: cutOut(barAt(48), barAt(88)), walkOn: walk }),
    waltz({ edit: cutOut(0, barAt(16)), walkOn: walk }),
    true,
  ],
  [
    'moment-removed',
    waltz({ edit: cutOut(barAt(48), barAt(88)) }, momentAt(24)),
    waltz({ edit: cutOut(barAt(48), barAt(88)) }, momentAt(64)),
    false,
  ],
  [
    'landing-removed',
    waltz({ edit: cutOut(barAt(48), barAt(88)), ending: endingOn(barAt(108), ['lean-three']) }),
    waltz({ edit: cutOut(barAt(48), barAt(88)), ending: endingOn(barAt(60), ['lean-three']) }),
    true,
  ],
  [
    'landing-inaudible',
    waltz({ edit: fadeAt(barAt(84), 8), ending: endingOn(barAt(85), ['lean-three']) }),
    waltz({ edit: fadeAt(barAt(84), 8), ending: endingOn(barAt(87) + 0.667, ['lean-three']) }),
    true,
  ],
  [
    'start-count',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24) + 0.667)] }),
    true,
  ],
  [
    'runs-over',
    waltz({ placed: [placed('a', 'waltz-left-box', barAt(28))] }),
    waltz({ placed: [placed('a', 'waltz-left-box', barAt(30))] }),
    true,
  ],
  [
    'overlap',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24)), placed('b', 'waltz-underarm', barAt(28))] }),
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24)), placed('b', 'waltz-underarm', barAt(25))] }),
    true,
  ],
  [
    'preparation',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24)), placed('b', 'waltz-left-box', barAt(27))] }),
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24)), placed('b', 'waltz-left-box', barAt(26))] }),
    true,
  ],
  [
    'hold-connects',
    fox({ placed: [placed('a', 'foxtrot-box', barAt(24, four))] }),
    fox({
      placed: [placed('a', 'rumba-open-break', barAt(24, four)), placed('b', 'foxtrot-box', barAt(30, four))],
    }),
    true,
  ],
  [
    'cannot-be-danced',
    waltz({ placed: [placed('a', 'waltz-whisk', barAt(24)), placed('b', 'waltz-chasse', barAt(25))] }),
    waltz({ placed: [placed('a', 'waltz-whisk', barAt(24)), placed('b', 'waltz-progressive', barAt(25))] }),
    true,
  ],
  [
    'wrong-metre',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    waltz({
      moves: [...threes, libraryMove('foxtrot-underarm')],
      placed: [placed('a', 'foxtrot-underarm', barAt(24))],
    }),
    true,
  ],
  [
    'tempo',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    boardOf(
      { bpm: 170 },
      { moves: threes, placed: [placed('a', 'waltz-underarm', barAt(24, { bpm: 170 }))] },
    ),
    false,
  ],
  [
    'counts-left',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(25))] }),
    true,
  ],
  [
    'room',
    waltz({ placed: [placed('a', 'waltz-progressive', barAt(24))] }, floorOf(6)),
    waltz({ placed: [placed('a', 'waltz-progressive', barAt(24))] }, floorOf(4)),
    true,
  ],
  [
    'one-move',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24)), placed('b', 'waltz-underarm', barAt(48))] }),
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    true,
  ],
  ['basic-unsuited', waltz(), waltz({ moves: [...threes.slice(1), libraryMove('foxtrot-basic')] }), true],
  ['lift-without-spotter', lifted({ spotter: 'Bo' }), lifted({}), true],
  [
    'outfit',
    soon(waltz({ outfit: { train: 'tried', veil: 'none', shoes: 'tried' } })),
    soon(waltz({ outfit: { train: 'to try', veil: 'none', shoes: 'tried' } })),
    false,
  ],
  [
    'surface',
    soon(lifted({}, floorOf(6, 'oak parquet, dry'))),
    soon(lifted({}, floorOf(6, 'Lawn, with a tent over it'))),
    true,
  ],
  ['leaves-floor', onFloor(middle), onFloor({ ...middle, x: 0 }), true],
  [
    'too-near',
    onFloor(middle, [{ kind: 'pillar', x: 5.5, y: 5.5, across: 0.5 }]),
    onFloor(middle, [{ kind: 'pillar', x: 3.3, y: 3, across: 0.5 }]),
    true,
  ],
  [
    'pose-turned',
    onFloor(middle, [{ kind: 'camera', x: 3, y: 0, across: 0 }]),
    onFloor({ ...middle, facing: 4 }, [{ kind: 'camera', x: 3, y: 0, across: 0 }]),
    true,
  ],
  [
    'way-longer',
    onFloor(middle, [{ kind: 'door', x: 0, y: 3, across: 0 }], 20, { walkOn: walk }),
    onFloor({ ...middle, x: 17 }, [{ kind: 'door', x: 0, y: 3, across: 0 }], 20, { walkOn: walk }),
    true,
  ],
  [
    'unmarked-section',
    waltz({
      placed: [24, 32, 48, 64, 72, 88, 96].map((bar, i) => placed(`p${i}`, 'waltz-underarm', barAt(bar))),
    }),
    waltz(),
    true,
  ],
  [
    'too-many-moves',
    waltz({ lessonsLeft: 4, placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    waltz({
      lessonsLeft: 2,
      placed: [
        placed('a', 'waltz-underarm', barAt(24)),
        placed('b', 'waltz-underarm', barAt(32)),
        placed('c', 'waltz-progressive', barAt(48)),
      ],
    }),
    true,
  ],
  [
    'not-ready',
    waltz(
      { date: '2027-01-15' as const, placed: [placed('a', 'waltz-underarm', barAt(24))] },
      lessons(learned),
    ),
    waltz({ date: '2027-01-15' as const, placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    false,
  ],
  [
    'lost-move',
    waltz({ placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    waltz({ placed: [placed('a', 'no-such-move', barAt(24))] }),
    true,
  ],
  [
    'caution',
    waltz({ ending: endingOn(barAt(108), ['lean-three']) }),
    waltz({ ending: endingOn(barAt(108), ['dip-three']) }),
    false,
  ],
  ['no-walk-on', waltz({ walkOn: walk }), waltz(), true],
  ['walk-too-long', waltz({ walkOn: walk }), waltz({ walkOn: { ...walk, metres: 30 } }), true],
  [
    'first-step-off-phrase',
    waltz({ walkOn: walk }),
    waltz({ walkOn: { ...walk, firstStep: micros(barAt(11)) } }),
    true,
  ],
  [
    'stand-still',
    waltz({ walkOn: { ...walk, firstStep: micros(barAt(16)), metres: 20 } }),
    waltz({ walkOn: { ...walk, firstStep: micros(barAt(24)) } }),
    true,
  ],
  [
    'move-before-first-step',
    waltz({ walkOn: walk, placed: [placed('a', 'waltz-underarm', barAt(24))] }),
    waltz({ walkOn: walk, placed: [placed('a', 'waltz-underarm', barAt(2))] }),
    true,
  ],
  ['no-ending', waltz({ ending: endingOn(barAt(108), ['lean-three']) }), waltz(), true],
  [
    'landing-off-target',
    waltz({ ending: endingOn(barAt(108), ['lean-three']) }),
    waltz({ ending: endingOn(barAt(108) + 0.25, ['lean-three']) }),
    true,
  ],
  [
    'landing-in-tail',
    waltz({ ...playedUntil(110), ending: endingOn(barAt(110), ['lean-three']) }),
    waltz({ ...playedUntil(110), ending: endingOn(barAt(112), ['lean-three']) }),
    true,
  ],
  [
    'landing-weak',
    waltz({ ending: endingOn(barAt(108), ['lean-three']) }),
    waltz({ ending: endingOn(barAt(108) + 0.667, ['lean-three']) }),
    true,
  ],
  [
    'ending-too-early',
    waltz({ ending: endingOn(barAt(108), ['lean-three']) }),
    waltz({ ending: endingOn(barAt(1), ['waltz-left-box', 'lean-three']) }),
    true,
  ],
  [
    'ending-overlap',
    waltz({
      ending: endingOn(barAt(108), ['lean-three']),
      placed: [placed('a', 'waltz-underarm', barAt(96))],
    }),
    waltz({
      ending: endingOn(barAt(108), ['lean-three']),
      placed: [placed('a', 'waltz-underarm', barAt(106))],
    }),
    true,
  ],
  [
    'signal-missing',
    waltz({ ending: endingOn(barAt(108), ['lean-three']), cues: [cueAt('c', barAt(105), 'homeward')] }),
    waltz({ ending: endingOn(barAt(108), ['lean-three']) }),
    false,
  ],
  [
    'signal-late',
    waltz({
      ending: endingOn(barAt(108), ['lean-three'], { signal: 'c' }),
      cues: [cueAt('c', barAt(105), 'homeward')],
    }),
    waltz({
      ending: endingOn(barAt(108), ['lean-three'], { signal: 'd' }),
      cues: [cueAt('c', barAt(105), 'homeward'), cueAt('d', barAt(107), 'stay')],
    }),
    true,
  ],
  [
    'pose-kept-short',
    waltz({ ending: endingOn(barAt(108), ['lean-three']) }),
    waltz({ ending: endingOn(barAt(108), ['lean-three'], { hold: 1 }) }),
    true,
  ],
  [
    'pose-in-silence',
    waltz({ ending: endingOn(barAt(112), ['lean-three']) }),
    waltz({ ending: endingOn(barAt(112), ['lean-three'], { hold: 9 }) }),
    true,
  ],
  [
    'music-goes-on',
    waltz({ ending: endingOn(barAt(108), ['lean-three']) }),
    waltz({ ending: endingOn(barAt(90), ['lean-three']) }),
    true,
  ],
  [
    'safer-form',
    waltz({ ending: endingOn(barAt(108), ['dip-three'], { safer: true }) }),
    waltz({ ending: endingOn(barAt(108), ['dip-three']) }),
    true,
  ],
  ['band-fade', waltz({ musicBy: 'band' }), waltz({ musicBy: 'band', edit: fadeAt(barAt(84), 8) }), true],
  ['dj-not-asked', waltz({}, djSaid({})), soon(waltz()), false],
  [
    'dj-not-answered',
    waltz({
      asked: {
        digest: 'a'.repeat(64),
        at: '2027-01-01T00:00:00.000Z' as const,
        by: 'Noor',
        answerBy: '2027-01-10' as const,
      },
    }),
    waltz({
      asked: {
        digest: 'a'.repeat(64),
        at: '2027-01-01T00:00:00.000Z' as const,
        by: 'Noor',
        answerBy: '2027-01-09' as const,
      },
    }),
    false,
  ],
  ['dj-older-version', waltz({}, djSaid({})), waltz({ edit: fadeAt(barAt(84), 8) }, djSaid({})), false],
  [
    'dj-proposal-open',
    waltz({}, djSaid({})),
    waltz({}, djSaid({ kind: 'proposal', proposal: fadeAt(barAt(84), 8) })),
    false,
  ],
  [
    'copy-not-checked',
    soon(waltz({}, copyIs('same'))),
    soon(waltz({}, djSaid({ plays: 'own copy' }))),
    false,
  ],
  ['copy-differs', waltz({}, copyIs('same')), waltz({}, copyIs('another recording')), false],
  ['show-no-time', soon(waltz({}, inFinal({}))), soon(waltz()), false],
  ['day-past', waltz(), { ...waltz(), plan: { ...waltz().plan, date: '2027-01-09' } }, false],
  ['show-outdated', waltz(), waltz({}, inFinal({ music: '2:00' })), false],
  ['moment-other-recording', waltz({}, momentOf(recording.id)), waltz({}, momentOf('b'.repeat(64))), false],
  [
    'show-lead-short',
    waltz({ walkOn: { ...walk, metres: 30 } }, { show: { ...empty.show!, lead: 30 } }),
    waltz({ walkOn: { ...walk, metres: 30 } }, { show: { ...empty.show!, lead: 0 } }),
    true,
  ],
  [
    'show-too-short',
    waltz({}, inFinal({ 'in all': '4:30' })),
    waltz({}, inFinal({ 'in all': '3:00' })),
    false,
  ],
];

/** What of a row does not hold: nothing when its rule accepts, refuses and fixes as it says. */
export function failuresOf([rule, accepted, refused, fixed]: Row): string[] {
  const of = (board: Board) => checkBoard(board, today).filter((finding) => finding.rule === rule);
  const failures: string[] = [];
  if (of(accepted).length > 0) failures.push('refuses what it should accept');
  const found = of(refused);
  if (found.length === 0) failures.push('accepts what it should refuse');
  if (found.some(({ sentence }) => !/^[“A-Z].*[.!?]$/.test(sentence)))
    failures.push('says no whole sentence');
  const mended = found.find(({ fix }) => fix !== null);
  if ((mended !== undefined) !== fixed) failures.push(fixed ? 'has no fix' : 'has a fix');
  if (!mended?.fix) return failures;
  const plan = changePlan(refused.plan, mended.fix.changes);
  if (of({ ...refused, plan }).some(({ id }) => id === mended.id)) failures.push('its fix does not end it');
  // Taking the move away would end almost any finding, and help nobody.
  if (plan.placed.length < refused.plan.placed.length) failures.push('its fix takes a move away');
  return failures;
}

/** What a rule says of the first board in the table that breaks it. */
export function exampleOf(id: string): Finding {
  const row = table.find(([rule]) => rule === id);
  const found = row && checkBoard(row[2], today).find(({ rule }) => rule === id);
  if (!found) throw new Error(`the table has no board that breaks ${id}`);
  return found;
}
