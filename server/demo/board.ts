import type { Board } from '../../lib/core/areas/board.ts';
import { changePlan } from '../../lib/core/areas/change.ts';
import { emptyBoard } from '../../lib/core/areas/empty.ts';
import type { Plan } from '../../lib/core/areas/plan.ts';
import { boardScore } from '../../lib/core/areas/score.ts';
import type { Day } from '../../lib/core/calendar.ts';
import { standardMoves } from '../../lib/core/dance/library/standard.ts';
import { placeAt } from '../../lib/core/dance/place.ts';
import { digestOf } from '../../lib/core/edit/digest.ts';
import type { Edit } from '../../lib/core/edit/edit.ts';
import { type Proposal, shape } from '../../lib/core/edit/propose.ts';
import type { Samples } from '../../lib/core/signal/samples.ts';
import { gridFrom } from '../../lib/core/song/correct.ts';
import { type Grid, gridAspects } from '../../lib/core/song/grid.ts';
import type { Listening } from '../../lib/core/song/listen.ts';
import type { Recording } from '../../lib/core/song/recording.ts';
import type { Cue, Section } from '../../lib/core/song/section.ts';
import { confirmGrid } from '../../lib/core/song/signing.ts';
import { type RecordTime, recordTime, wholeMicros } from '../../lib/core/units.ts';
import { type DemoDays, demoDays } from './days.ts';
import { lessonsOf, remarksOf } from './notes.ts';
import { BEATS_PER_BAR, facts, sounds } from './song.ts';
import { layOut } from './timeline.ts';

/** What was decoded and heard of the demonstration's file. */
export interface HeardSong {
  recording: Recording;
  samples: Samples;
  listening: Listening;
  imprint: string;
}

/** Where the party is. */
export const DEMO_ZONE = 'Europe/Lisbon';
const INSTRUCTOR_NAME = 'Marit';
const TARGET = { length: 195, within: 20 };

/**
 * A filled-in board of an invented couple. What listening heard stands as it was heard; the form and the names of sounds are
 * corrected as a person would, from the song's own score; edits, digests and places come from the core.
 */
export function demoBoard(song: HeardSong, today: Day): Board {
  const days = demoDays(today);
  const heard = planWithSong(song, days);
  const { now, before } = editsOf(heard, song);
  const digest = digestOf(before, song.recording);
  const plan = danced({
    ...heard,
    edit: now,
    asked: { digest, at: days.at(-10, '16:00'), by: INSTRUCTOR_NAME, answerBy: days.day(21) },
  });
  return {
    plan,
    lessons: lessonsOf(days),
    remarks: remarksOf(days),
    answer: {
      ...emptyBoard().answer!,
      plays: 'finished file',
      answers: [
        {
          id: 'answer-1',
          kind: 'yes',
          at: days.at(-8, '19:30'),
          by: 'Rufus',
          plays: 'finished file',
          digest,
          edit: before,
          words: 'Fade as planned. I start on Kezia’s nod.',
          proposal: null,
        },
      ],
    },
    show: {
      ...emptyBoard().show!,
      time: '20:45',
      zone: DEMO_ZONE,
      announcedBy: 'Kezia',
      floor: {
        width: 7,
        depth: 5.5,
        surface: 'oiled oak, laid for the day',
        obstacles: 'a pillar at the corner by the stairs',
        guests: 'on three sides; the water doors stay free',
        things: [
          { id: 'thing-1', kind: 'door', x: 3.5, y: 5.5, across: 0, name: 'the water doors' },
          { id: 'thing-2', kind: 'pillar', x: 6.6, y: 5.1, across: 0.4, name: 'the pillar by the stairs' },
          { id: 'thing-3', kind: 'guests', x: 3.5, y: 0, across: 0, name: 'guests' },
          { id: 'thing-4', kind: 'camera', x: 0.4, y: -0.6, across: 0, name: 'the camera' },
        ],
      },
      moments: [
        {
          id: 'moment-1',
          at: cueTime(song, 'two bells'),
          who: 'MC',
          what: 'silent from the first bell',
          recording: song.recording.id,
        },
        {
          id: 'moment-2',
          at: cueTime(song, 'two fiddles'),
          who: 'lights',
          what: 'warm, a little brighter',
          recording: song.recording.id,
        },
      ],
    },
  };
}

function planWithSong(song: HeardSong, days: DemoDays): Plan {
  const { recording, listening, imprint } = song;
  const { tempo, key, loudness, truePeak, firstSound, lastSound, confidence, features } = listening;
  return {
    ...emptyBoard().plan,
    title: facts.title,
    couple: { one: { name: 'Inês', part: 'follow' }, other: { name: 'Kofi', part: 'lead' } },
    date: days.party,
    venue: 'Tillenwick Boathouse',
    instructor: INSTRUCTOR_NAME,
    musicBy: 'dj',
    eveningBy: 'planner',
    lessonsLeft: 3,
    nextLesson: `${days.day(10)}T18:00`,
    target: TARGET,
    recording,
    recordingWords: {
      artist: facts.artist,
      title: facts.title,
      version: facts.version,
      source: 'the synthesiser of this demonstration',
    },
    heard: { tempo, key, loudness, truePeak, firstSound, lastSound, confidence },
    features,
    imprint,
    grid: confirmGrid(toTheLastChord(gridFrom(listening)), gridAspects, INSTRUCTOR_NAME),
    sections: sectionsOf(listening),
    cues: cuesOf(song),
    moves: chosenMoves(),
  };
}

const nearest = (times: readonly RecordTime[], at: number): RecordTime =>
  times.reduce((best, t) => (Math.abs(t - at) < Math.abs(best - at) ? t : best));

/** The song slows down into its last chord, where beats are no longer heard for sure: those are tapped by the instructor. */
function toTheLastChord(grid: Grid): Grid {
  const { beats, bars } = layOut().at(-1)!;
  const lastChord = (bars - 2) * BEATS_PER_BAR;
  const last = grid.beats.at(-1)!;
  const tapped = beats
    .map((at, i) => ({ at: recordTime(wholeMicros(at)), opens: i % BEATS_PER_BAR === 0 }))
    .filter(({ at }, i) => i <= lastChord && at > last + 0.3);
  return {
    ...grid,
    beats: [...grid.beats, ...tapped.map(({ at }) => at)],
    bars: [...grid.bars, ...tapped.flatMap(({ opens }, i) => (opens ? [grid.beats.length + i] : []))],
  };
}

/** The song's own form, each part at the bar that was heard nearest to it. */
const sectionsOf = ({ bars }: Listening): Section[] =>
  layOut().map(({ part, beats }, i) => ({
    id: `section-${String(i + 1).padStart(2, '0')}`,
    start: nearest(bars, beats[0]!),
    kind: part.kind,
    like: part.like,
    name: '',
    phraseBars: null,
    confirmedBy: INSTRUCTOR_NAME,
  }));

/** A sound is said to be on the beat that was heard there; past the last of those it is where the score has it. */
function cuesOf({ listening }: HeardSong): Cue[] {
  const laid = layOut();
  return sounds.map(({ part, bar, word }, i) => {
    const written = laid[part]!.beats[bar * BEATS_PER_BAR]!;
    const beat = nearest(listening.beats, written);
    const at = Math.abs(beat - written) < 0.15 ? beat : recordTime(wholeMicros(written));
    return { id: `cue-${String(i + 1).padStart(2, '0')}`, at, word };
  });
}

const cueTime = (song: HeardSong, word: string): RecordTime =>
  cuesOf(song).find((cue) => cue.word === word)!.at;

/** First the simple fade, to which the DJ said yes; then, once the couple asked for the bells, the splice. */
function editsOf(plan: Plan, { listening, samples, recording }: HeardSong): { now: Edit; before: Edit } {
  const { duration } = recording;
  const song = {
    grid: plan.grid!,
    sections: plan.sections,
    phraseBars: 8,
    duration,
    lastSound: listening.lastSound,
    firstSound: listening.firstSound,
  };
  const proposals = shape(
    { plan: song, features: listening.features, samples },
    { target: TARGET.length, within: TARGET.within },
  );
  const best = (kind: Proposal['kind']): Edit => proposals.find((proposal) => proposal.kind === kind)!.edit;
  return { now: best('splice'), before: best('fade') };
}

const CHOSEN = [
  'waltz-box',
  'waltz-underarm',
  'waltz-left-box',
  'waltz-balance',
  'waltz-roll-out-and-in',
  'dip-three',
];
const chosenMoves = () => standardMoves.filter(({ id }) => CHOSEN.includes(id));

/** Moves on changes of the music, one of them late, so that the checks have something to say. */
function danced(plan: Plan): Plan {
  const score = boardScore(plan)!;
  const sections = score.sections.filter(({ counts }) => counts > 0);
  const firstOf = (kind: string, n = 0): number => sections.filter((s) => s.kind === kind)[n]!.first;
  const cue = (word: string) => plan.cues.find((one) => one.word === word)!;
  const placings = [
    ['placed-1', 'waltz-balance', firstOf('verse', 1), 2],
    ['placed-2', 'waltz-underarm', firstOf('chorus'), 2],
    // Begun six bars into a phrase of eight, it runs over into the bridge.
    ['placed-3', 'waltz-left-box', firstOf('bridge') - 6, 1],
    ['placed-4', 'waltz-balance', firstOf('bridge') + 8 * BEATS_PER_BAR, 2],
    ['placed-5', 'waltz-underarm', firstOf('chorus', 1), 2],
  ] as const;
  return changePlan(
    {
      ...plan,
      walkOn: {
        how: 'walk on',
        from: 'the water doors',
        metres: 7,
        pace: 1.2,
        takeHold: 4,
        firstStep: cue('the fiddle').at,
        signal: 'Kezia’s nod to Rufus',
        lastWords: '… and now, Inês and Kofi',
      },
      ending: {
        target: { kind: 'cue word', at: cue('last bells').at, cue: cue('last bells').id },
        moves: ['waltz-roll-out-and-in', 'dip-three'],
        hold: 4,
        signal: cue('bells again').id,
        facing: 'the water doors',
        safer: false,
      },
    },
    placings.flatMap(([id, move, at, times]) => placeAt(score, move, at, id, times)),
  );
}
