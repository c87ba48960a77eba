import { ending, move, placedMove, walkOn } from '../dance/move.ts';
import { edit } from '../edit/edit.ts';
import { grid, storedTime } from '../song/grid.ts';
import { features, heard, recording, recordingWords } from '../song/recording.ts';
import { cue, section } from '../song/section.ts';
import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { couple, digest, instant, isoDate, isoDateTime, line } from './people.ts';

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
/** The instructor settles song and edit; instructor or couple may lift it with a word. */
export const settled = z.object({ by: name, at: instant, word: line });
/** A named state of song and dance, to look at and to go back to: `state` is what `markedState` makes. */
export const mark = z.object({ name, at: instant, by: name, state: z.string().max(1_000_000) });

export const planShape = {
  name: 'plan',
  version: 1,
  registers: {
    title: name,
    couple,
    /** Day of the party. */
    date: isoDate,
    venue: name,
    instructor: name,
    /** Who plays the music, and who runs the evening. */
    musicBy: z.enum(['dj', 'band', 'friend', 'venue']),
    eveningBy: z.enum(['planner', 'venue', 'mc', 'nobody']),
    lessonsLeft: z.int().min(0).max(100),
    nextLesson: isoDateTime,
    target,
    recording,
    recordingWords,
    heard,
    features,
    /** Base64 of the recording's imprint for the copy check (lib/core/compare). */
    imprint: z.string().max(120_000),
    grid,
    /** Name of the person who confirmed the sections. */
    sectionsConfirmedBy: name,
    /** Bars a phrase unless a section says otherwise. */
    phraseBars: z.int().min(1).max(32),
    edit,
    walkOn,
    ending,
    asked: asking,
    settled,
  },
  collections: {
    sections: section,
    cues: cue,
    moves: move,
    placed: placedMove,
    replies: reply,
    marks: mark,
  },
  richText: [],
  owner: null,
} as const satisfies AreaShape;
export type Plan = AreaData<typeof planShape>;
