import { type AnswerKind, answerState } from '@/lib/core/agreed/answerState.ts';
import type { Board } from '@/lib/core/areas/board.ts';
import { changePlan } from '@/lib/core/areas/change.ts';
import { dayWords } from '@/lib/core/areas/days.ts';
import { markedState, planAt } from '@/lib/core/areas/marks.ts';
import { planDifferences } from '@/lib/core/areas/planDifferences.ts';
import type { Instant, WallTime } from '@/lib/core/calendar.ts';
import { drillId } from '@/lib/core/handover/homework.ts';
import type { Me } from '../_client/boardState.ts';
import { forgetOwn, type OwnChange, readOwn, seenKey } from '../_client/ownSince.ts';
import { homework } from '../_notes/homework.ts';
import { djNews, news } from './words.ts';

/** What somebody had seen of a board on this device: enough to tell what is new. */
export interface LastTime {
  at: Instant;
  /** Song and dance, as a mark keeps them. */
  state: string;
  date: string;
  venue: string;
  time: string;
  nextLesson: WallTime | null;
  /** Ids of pages, and of lines of homework. */
  pages: string[];
  tasks: string[];
  dj: AnswerKind;
}

export function seenNow(board: Board, at: Instant): LastTime {
  const { plan, lessons, show } = board;
  return {
    at,
    state: markedState(plan),
    date: plan.date ?? '',
    venue: plan.venue ?? '',
    time: show?.time ?? '',
    nextLesson: plan.nextLesson,
    pages: (lessons?.lessons ?? []).map(({ id }) => id),
    tasks: homework(lessons?.lessons ?? []).map(({ words }) => drillId(words)),
    dj: answerState(board).kind,
  };
}

/**
 * What has changed since, each in a sentence, song and dance last.
 * @param own what this device has changed itself: no news to whoever holds it
 */
export function newsSince(last: LastTime, board: Board, own: readonly OwnChange[]): string[] {
  const { plan, lessons, show } = board;
  const ownFields = new Set(own.flatMap(({ changes }) => changes.map(placeOf)));
  const isNews = (field: string, was: unknown, is: unknown) => was !== is && !ownFields.has(field);
  const { kind } = answerState(board);
  const before = planAt(plan, last.state);
  const withOwn =
    before &&
    changePlan(
      before,
      own.flatMap((one) => (one.area === 'plan' ? one.changes : [])),
    );
  return [
    ...(isNews('date', last.date, plan.date ?? '') ? [news.party(dayWords(plan.date))] : []),
    ...(isNews('venue', last.venue, plan.venue ?? '') ? [news.venue(plan.venue ?? '')] : []),
    ...(last.time === (show?.time ?? '') ? [] : [news.time(show?.time ?? '')]),
    ...(isNews('nextLesson', last.nextLesson, plan.nextLesson) ? [news.nextLesson(plan.nextLesson)] : []),
    ...(last.dj === kind ? [] : [djNews[kind] ?? ''].filter(Boolean)),
    ...(lessons?.lessons ?? [])
      .filter(({ id }) => !last.pages.includes(id) && !ownFields.has(`lessons/${id}`))
      .map(({ title, date }) => news.page(title || dayWords(date))),
    ...homework(lessons?.lessons ?? [])
      .filter((task) => !last.tasks.includes(drillId(task.words)) && !ownFields.has(`lessons/${task.lesson}`))
      .map(({ words }) => news.task(words.replace(/[.!?]$/, ''))),
    // Compared are song and dance alone: the rest of `withOwn` is as it is now.
    ...(withOwn ? planDifferences({ ...withOwn, settled: plan.settled }, plan) : []),
  ];
}

const placeOf = (change: OwnChange['changes'][number]): string =>
  'register' in change ? change.register : `${change.collection}/${change.id}`;

/** Null on a first visit, or where the device keeps nothing. */
export function readLastTime(me: Me): LastTime | null {
  try {
    const kept = JSON.parse(localStorage.getItem(seenKey(me)) ?? 'null') as Partial<LastTime> | null;
    return kept !== null &&
      typeof kept.state === 'string' &&
      Array.isArray(kept.pages) &&
      Array.isArray(kept.tasks)
      ? (kept as LastTime)
      : null;
  } catch {
    return null;
  }
}

export function keepLastTime(me: Me, seen: LastTime): void {
  try {
    localStorage.setItem(seenKey(me), JSON.stringify(seen));
    forgetOwn(me);
  } catch {
    // Nothing new is told then.
  }
}

export const ownSince = (me: Me): OwnChange[] => readOwn(me);
