import type { DjAnswer } from '../areas/answer.ts';
import type { Board } from '../areas/board.ts';
import type { Plan } from '../areas/plan.ts';
import { digestOf } from '../edit/digest.ts';
import { type Edit, wholeSong } from '../edit/edit.ts';

/** The edit that is to be played. */
export const playedEdit = (plan: Plan): Edit => plan.edit ?? wholeSong;

/** Digest of what is to be played now; null without a recording. */
export const currentDigest = (plan: Plan): string | null =>
  plan.recording ? digestOf(playedEdit(plan), plan.recording) : null;

/** From which file it is played. */
export type Plays = DjAnswer['plays'];

/** What the DJ said last that they play; null while they have not said it. */
export const playsOf = ({ answer }: Board): Plays | null =>
  answer?.plays ?? latest(answer?.answers ?? [])?.plays ?? null;

/** The latest of them; instants are compared as text, and of two at one instant the later id counts, everywhere alike. */
export const latest = <T extends { at: string; id: string }>(all: readonly T[]): T | null =>
  all.reduce<T | null>(
    (best, one) => (!best || one.at > best.at || (one.at === best.at && one.id > best.id) ? one : best),
    null,
  );
