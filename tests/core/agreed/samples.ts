import { entryFacts } from '../../../lib/core/agreed/entry.ts';
import { currentDigest } from '../../../lib/core/agreed/played.ts';
import { type AreaName, areas, type Board } from '../../../lib/core/areas/board.ts';
import { markedState } from '../../../lib/core/areas/marks.ts';
import type { Instant } from '../../../lib/core/calendar.ts';
import { usualWalkOn } from '../../../lib/core/dance/walkOn.ts';
import { SAID } from '../../../lib/core/song/evidence.ts';
import { barAt, boardOf, cueAt, cutOut, endingOn, libraryMove, micros, placed } from '../../kit/board.ts';
import { answerTo } from './said.ts';

const at = (day: number) => `2027-05-0${day}T10:00:00.000Z` as Instant;
const words = { type: 'doc', content: [{ type: 'paragraph', content: [{ type: 'text', text: 'Well.' }] }] };

/** A board in which every field holds something, and nobody has agreed to anything; the second has another value in each. */
function filled(n: 1 | 2): Board {
  const other = n === 2;
  const base = boardOf(other ? { bpm: 92 } : {}, {
    edit: cutOut(barAt(48), barAt(other ? 56 : 64)),
    moves: ['waltz-box', 'waltz-whisk', 'lean-three'].map(libraryMove),
    placed: [placed('p', 'waltz-box', barAt(other ? 12 : 8))],
    cues: [cueAt('c', barAt(108), other ? 'lamp' : 'lantern'), cueAt('d', barAt(4), 'bell')],
    ending: endingOn(barAt(108), ['lean-three'], { signal: 'c', hold: other ? 5 : 4 }),
    walkOn: { ...usualWalkOn, firstStep: micros(barAt(4)), signal: other ? 'a nod' : 'the lights' },
  });
  const { plan } = base;
  const recording = { ...plan.recording!, id: (other ? 'b' : 'a').repeat(64) };
  return {
    plan: {
      ...plan,
      recording,
      title: `Lantern Street ${n}`,
      couple: { one: { ...plan.couple!.one, name: other ? 'Nora' : 'Noor' }, other: plan.couple!.other },
      date: other ? '2027-06-19' : '2027-06-12',
      venue: other ? 'The Boathouse' : 'The Glasshouse',
      instructor: other ? 'Mirela' : 'Marta',
      musicBy: other ? 'friend' : 'dj',
      eveningBy: other ? 'mc' : 'planner',
      outfit: { train: other ? 'tried' : 'to try', veil: 'none', shoes: 'none' },
      spotter: other ? 'Bo' : 'Marta',
      lessonsLeft: n,
      nextLesson: `2027-06-0${n}T18:00`,
      target: { length: 180 + n, within: 20 },
      beginsAt: { x: 3, y: n, facing: 4 },
      stride: other ? 0.6 : 0.45,
      recordingWords: { ...plan.recordingWords!, artist: `The Harbour Lamps ${n}` },
      heard: { ...plan.heard!, loudness: -13 - n },
      imprint: `imprint${n}`,
      sections: plan.sections.map((section) => (other ? { ...section, name: 'Low strings' } : section)),
      corrections: [
        { id: 'k', ...SAID, kind: 'bars', times: [micros(barAt(other ? 8 : 4))], byHand: true, by: 'Marta' },
      ],
      phraseBars: other ? 4 : 8,
      asked: { digest: currentDigest({ ...plan, recording })!, at: at(n), by: 'Noor', answerBy: null },
      replies: [{ id: 'r', answer: 'a', accepted: other, at: at(n), by: 'Noor' }],
      marks: [{ id: 'm', name: `After lesson ${n}`, at: at(n), by: 'Marta', state: markedState(plan) }],
    },
    lessons: {
      lessons: [{ id: 'l', date: `2027-05-0${n}`, title: `Lesson ${n}`, writtenAt: at(n), text: words }],
      readiness: [{ id: 'waltz-box', level: n, at: at(n) }],
      questions: [
        {
          ...{ id: 'q', by: 'Noor', at: at(n), words: `Which shoe, ${n}?`, readAt: at(n) },
          ...{ answer: `The ${n}th.`, answeredBy: 'Marta', answeredAt: at(n) },
          ...{ answerReadAt: other ? at(n) : null, toldAt: null },
        },
      ],
      drills: [{ id: 'k', section: 's1', phrase: n }],
    },
    remarks: {
      remarks: [
        {
          ...{ id: 'w', writer: 'me', name: 'Noor', role: 'couple', at: at(n), text: words },
          about: other ? 'song' : '',
        },
      ],
    },
    answer: {
      copy: null,
      checking: other ? { state: 'begun', at: at(n) } : null,
      plays: other ? 'own copy' : 'finished file',
      answers: [],
    },
    show: {
      ...base.show!,
      time: other ? '21:00' : '20:30',
      afterMidnight: other,
      zone: other ? 'Europe/Paris' : 'Europe/Berlin',
      lead: 30 * n,
      applause: 20 * n,
      announcedBy: other ? 'the host' : 'the MC',
      after: other ? 'the cake' : 'the dance floor opens',
      floor: {
        ...{ width: 6 + n, depth: 6, surface: 'wood', obstacles: '', guests: '' },
        things: [{ id: 'f', kind: 'camera', x: n, y: 0, across: 0, name: 'the camera by the cake' }],
      },
      notes: `Note ${n}`,
      moments: [{ id: 'x', at: micros(barAt(16)), who: 'lights', what: other ? 'down' : 'dim' }],
    },
  };
}

export const [first, second] = [filled(1), filled(2)];

export const settled = { by: 'Marta', at: at(3), word: 'As we heard it on Tuesday.' };

const withSettled = (board: Board): Board => ({ ...board, plan: { ...board.plan, settled } });

/** The DJ's yes to the board as it is. */
export const yesTo = (board: Board) => answerTo(board, { id: 'a', at: at(4), by: 'Rui' });

export const withYes = (board: Board): Board => ({
  ...board,
  answer: { ...board.answer!, answers: [yesTo(board)] },
});

export const withFinal = (board: Board): Board => {
  const { digest, facts } = entryFacts(board);
  return { ...board, show: { ...board.show!, final: { digest, facts, at: at(4), by: 'Pilar' } } };
};

/** What may be agreed when somebody changes something. */
export const states = {
  'nothing agreed': first,
  settled: withSettled(first),
  yes: withYes(first),
  final: withFinal(first),
  'all of it': withFinal(withYes(withSettled(first))),
} satisfies Record<string, Board>;

export const names = Object.keys(areas) as AreaName[];
