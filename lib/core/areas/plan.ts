import { beginning, stride } from '../dance/floor.ts';
import { ending, move, placedMove, walkOn } from '../dance/move.ts';
import { edit, movedEdit } from '../edit/edit.ts';
import { correction, movedCorrection } from '../song/evidence.ts';
import { grid, movedGrid, storedTime } from '../song/grid.ts';
import { movedAt, movedWords } from '../song/places.ts';
import { features, heard, recording, recordingWords } from '../song/recording.ts';
import { cue, section } from '../song/section.ts';
import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { field } from './field.ts';
import { couple, digest, instant, isoDate, line, wallTime } from './people.ts';

const name = z.string().max(120);

/** Length the couple want, and how far from it is still fine, in seconds. */
export const target = z.object({ length: storedTime, within: storedTime });
/**
 * The couple's asking of the DJ: for which edit, and by when an answer is wanted. `before`: the edits spoken of until then, the
 * first ones first; older boards do not say.
 */
export const asking = z.object({
  digest,
  at: instant,
  by: name,
  answerBy: isoDate.nullable(),
  before: z.array(digest).max(1000).optional(),
});
/** Accepting or declining one of the DJ's answers. */
export const reply = z.object({ answer: z.string().max(60), accepted: z.boolean(), at: instant, by: name });
/** What either of the two wears that changes how they dance: there is none, or they have danced in it, or not yet. */
const worn = z.enum(['none', 'to try', 'tried']);
export const outfit = z.object({ train: worn, veil: worn, shoes: worn });
/** The instructor settles song and edit; instructor or couple may lift it with a word. */
export const settled = z.object({ by: name, at: instant, word: line });
/** A named state of song and dance, to look at and to go back to: `state` is what `markedState` makes. */
export const mark = z.object({ name, at: instant, by: name, state: z.string().max(1_000_000) });

export const planShape = {
  name: 'plan',
  version: 2,
  registers: {
    title: field(name, { of: 'evening', called: 'the name of the dance' }),
    couple: field(couple, { of: 'evening', called: 'the couple’s names' }),
    /** Day of the party. */
    date: field(isoDate, { of: 'evening', called: 'the day of the party' }),
    venue: field(name, { of: 'evening', called: 'the venue' }),
    instructor: field(name, { of: 'evening', called: 'the instructor’s name' }),
    musicBy: field(z.enum(['dj', 'band', 'friend', 'venue']), {
      of: 'evening',
      called: 'who plays the music',
    }),
    eveningBy: field(z.enum(['planner', 'venue', 'mc', 'nobody']), {
      of: 'evening',
      called: 'who runs the evening',
    }),
    outfit: field(outfit, { of: 'evening', called: 'train, veil and shoes' }),
    /** Who stands by while lifts are practised. */
    spotter: field(name, { of: 'lessons', called: 'who stands by at lifts' }),
    lessonsLeft: field(z.int().min(0).max(100), { of: 'lessons', called: 'how many lessons are left' }),
    nextLesson: field(wallTime, { of: 'lessons', called: 'the next lesson' }),
    target: field(target, { of: 'dance', called: 'the wanted length' }),
    recording: field(recording, { of: 'song', called: 'the recording', settles: true, scored: true }),
    recordingWords: field(recordingWords, { of: 'song', called: 'artist, title and source' }),
    heard: field(heard, {
      of: 'song',
      called: 'what was heard in the recording',
      settles: true,
      scored: true,
    }),
    features: field(features, {
      of: 'measured',
      called: 'what was measured in the recording',
      settles: true,
    }),
    /** Base64 of the recording's imprint for the copy check (lib/core/compare). */
    imprint: field(z.string().max(120_000), {
      of: 'measured',
      called: 'the imprint of the recording',
      settles: true,
    }),
    grid: field(grid, {
      of: 'song',
      called: 'beats and bars',
      settles: true,
      scored: true,
      moved: movedGrid,
      anew: true,
    }),
    /** Bars a phrase unless a section says otherwise. */
    phraseBars: field(z.int().min(1).max(32), {
      of: 'song',
      called: 'the length of a phrase',
      settles: true,
      scored: true,
      anew: true,
    }),
    edit: field(edit, {
      of: 'song',
      called: 'the edit',
      settles: true,
      scored: true,
      moved: movedEdit,
      anew: true,
    }),
    walkOn: field(walkOn, {
      of: 'dance',
      called: 'the walk-on',
      moved: (value, places) => ({
        ...value,
        from: movedWords(value.from, places),
        firstStep: value.firstStep === null ? null : places.of(value.firstStep),
        signal: movedWords(value.signal, places),
        lastWords: movedWords(value.lastWords, places),
      }),
    }),
    ending: field(ending, {
      of: 'dance',
      called: 'the ending',
      // Without a moment to land on there is none.
      moved: (value, places) => {
        const target = movedAt(value.target, places);
        return target && { ...value, target, facing: movedWords(value.facing, places) };
      },
    }),
    beginsAt: field(beginning, { of: 'dance', called: 'where on the floor the dance begins' }),
    stride: field(stride, { of: 'dance', called: 'the length of the couple’s step' }),
    asked: field(asking, { of: 'said', called: 'what the DJ was asked' }),
    settled: field(settled, { of: 'said', called: 'that song and edit are settled' }),
  },
  collections: {
    sections: field(section, {
      of: 'song',
      called: 'a section',
      settles: true,
      scored: true,
      moved: ({ start, ...rest }, places) => {
        const there = places.of(start);
        return there === null ? null : { ...rest, start: there };
      },
      anew: true,
    }),
    /** What people said of beats and bars: the grid is heard again with all of it. */
    corrections: field(correction, {
      of: 'song',
      called: 'a correction of the counts',
      settles: true,
      moved: movedCorrection,
      anew: true,
    }),
    cues: field(cue, { of: 'song', called: 'a cue word', moved: movedAt }),
    moves: field(move, { of: 'dance', called: 'a move that the couple know' }),
    placed: field(placedMove, { of: 'dance', called: 'a move on the sheet', moved: movedAt }),
    replies: field(reply, { of: 'said', called: 'a reply to the DJ' }),
    marks: field(mark, { of: 'lessons', called: 'a mark' }),
  },
  richText: [],
  owner: null,
} as const satisfies AreaShape;
export type Plan = AreaData<typeof planShape>;
