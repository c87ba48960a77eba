import { countLevel, storedRecordTime } from '../song/grid.ts';
import { z } from '../zod.ts';
import { danceStep } from './step.ts';

export const dance = z.enum([
  'waltz',
  'viennese waltz',
  'foxtrot',
  'rumba',
  'swing',
  'nightclub two step',
  'hustle',
  'tango',
  'bolero',
  'west coast swing',
  'cha-cha',
  'sway',
  'own',
]);
export type Dance = z.infer<typeof dance>;

/** How the partners hold each other (the screens say "dance hold"). */
export const danceHold = z.enum([
  'closed',
  'open',
  'two hands',
  'one hand',
  'apart',
  'side by side',
  'shadow',
]);
export type DanceHold = z.infer<typeof danceHold>;

/**
 * How the partners stand to each other: face to face; both opened a little to the same side, towards the joined hands (promenade) or
 * away from them (counter promenade); beside each other, facing the same way; one behind the other, facing the same way (shadow).
 */
export const position = z.enum(['facing', 'promenade', 'counter promenade', 'side by side', 'shadow']);
export type Position = z.infer<typeof position>;

const foot = z.enum(['left', 'right', 'either']);
export type FreeFoot = z.infer<typeof foot>;
export const caution = z.enum(['dip', 'lift', 'fast turn', 'floor', 'dress']);
export type Caution = z.infer<typeof caution>;

const easyOn = z.enum(['small room', 'long dress', 'knees']);

/** A figure. Copied into a board when chosen, so that a board stands alone. */
export const move = z.object({
  name: z.string().check(z.minLength(1), z.maxLength(80)),
  dance,
  /** Beats a bar of the metres it suits; 0 means any. */
  metre: z.union([z.literal(0), z.literal(3), z.literal(4)]),
  counts: z.int().check(z.minimum(1), z.maximum(64)),
  /** The level at which its counts are counted. */
  level: countLevel,
  /** The basic of its dance: fills what no other move takes. */
  basic: z.boolean(),
  rhythm: z.string().check(z.maxLength(80)),
  /** The count of the bar on which it starts, from 1. */
  startsOn: z.int().check(z.minimum(1), z.maximum(16)),
  /** Counts led during the basic before it. */
  preparation: z.int().check(z.minimum(0), z.maximum(16)),
  /** For a pose: on which of its counts it lands, from 1; null for what is no pose. */
  landsOn: z.nullable(z.int().check(z.minimum(1), z.maximum(64))),
  holdBefore: danceHold,
  holdAfter: danceHold,
  /** The lead's free foot: `either` where nobody said which. */
  footBefore: foot,
  footAfter: foot,
  /**
   * What boards from before do not say, and nobody need say of a move of their own. Where it is absent it is unknown, and nothing is
   * concluded from it; only the follow's foot is then the other one than the lead's.
   */
  followFootBefore: z.optional(foot),
  followFootAfter: z.optional(foot),
  positionBefore: z.optional(position),
  positionAfter: z.optional(position),
  /** May as well be begun with the other foot, all of it mirrored. */
  eitherFoot: z.optional(z.boolean()),
  /** Whom it is kind to. */
  easyOn: z.optional(z.array(easyOn).check(z.maxLength(3))),
  /** Joins what does not connect: a change of weight, a bar of waiting, the hold opened or closed. */
  link: z.optional(z.boolean()),
  /** Every step of both, in order. */
  steps: z.optional(z.array(danceStep).check(z.maxLength(160))),
  /** What lead and follow each do, in words. */
  lead: z.string().check(z.maxLength(300)),
  follow: z.string().check(z.maxLength(300)),
  travels: z.boolean(),
  /** May follow itself without preparation. */
  repeats: z.boolean(),
  /** Metres of floor across that it needs. */
  room: z.number().check(z.minimum(0), z.maximum(20)),
  /** Least seconds a count at which it can be danced well. */
  leastSeconds: z.number().check(z.minimum(0.1), z.maximum(5)),
  difficulty: z.union([z.literal(1), z.literal(2), z.literal(3)]),
  cautions: z.array(caution).check(z.maxLength(5)),
  /** The safer form, for a dip or lift; empty when none is needed. */
  saferForm: z.string().check(z.maxLength(200)),
  /** Where its length comes from. */
  source: z.string().check(z.maxLength(200)),
});
export type Move = z.infer<typeof move> & { id: string };

/** A move at a count of the floor score, stored as record time so that correcting the grid moves nothing that is heard. */
export const placedMove = z.object({
  move: z.string().check(z.maxLength(60)),
  at: storedRecordTime,
  /** Danced so many times in a row. */
  times: z.int().check(z.minimum(1), z.maximum(16)),
});
export type PlacedMove = z.infer<typeof placedMove> & { id: string };

export const walkOn = z.object({
  how: z.enum(['walk on', 'in place', 'from the entrance']),
  /** A landmark, never left or right. */
  from: z.string().check(z.maxLength(120)),
  metres: z.number().check(z.minimum(0), z.maximum(60)),
  /** Metres a second. */
  pace: z.number().check(z.minimum(0.3), z.maximum(2)),
  /** Seconds to take hold. */
  takeHold: z.number().check(z.minimum(0), z.maximum(30)),
  firstStep: z.nullable(storedRecordTime),
  /** Who gives the start signal to whom. */
  signal: z.string().check(z.maxLength(200)),
  /** The last words spoken before the music. */
  lastWords: z.string().check(z.maxLength(200)),
});
export type WalkOn = z.infer<typeof walkOn>;

export const ending = z.object({
  /** Record time may lie past the last beat: counts then go on at the mean of the last eight intervals. */
  target: z.object({
    kind: z.enum(['cue word', 'last strong count', 'time']),
    at: storedRecordTime,
    cue: z.nullable(z.string().check(z.maxLength(60))),
  }),
  /** Ids of the board's moves in order; the last one lands on the target. Where they lie is solved, not stored. */
  moves: z.array(z.string().check(z.maxLength(60))).check(z.maxLength(6)),
  /** Seconds the closing pose is kept. */
  hold: z.number().check(z.minimum(0), z.maximum(30)),
  /** Cue that tells them it begins; null lets the solver choose. */
  signal: z.nullable(z.string().check(z.maxLength(60))),
  facing: z.string().check(z.maxLength(120)),
  /** The pose in its safer form. */
  safer: z.boolean(),
});
export type Ending = z.infer<typeof ending>;
