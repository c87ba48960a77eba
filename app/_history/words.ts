import type { Instant } from '@/lib/core/calendar.ts';
import type { BoardHistory } from '@/lib/protocol/api.ts';
import { instantDay } from '../_studio/dates.ts';
import { roleWords } from '../_ui/roles.ts';

export type Hour = BoardHistory['hours'][number];

/** Who wrote: several may hold a link of the same role, which the day it was made tells apart. */
export function writerWords({ by }: Hour, links: BoardHistory['links']): string {
  if (by.link === null) return 'you, signed in';
  const link = links.find(({ id }) => id === by.link);
  return link
    ? `${roleWords[by.role]}, by the link made ${instantDay(link.madeAt)}`
    : `${roleWords[by.role]}, by a link that holds no longer`;
}

/** The beginning of the hour in which something was written. */
export const hourOf = (at: Instant): Instant => `${at.slice(0, 13)}:00:00.000Z` as Instant;

/** `14:05` where the reader is. */
export function timeWords(at: Instant): string {
  const time = new Date(at);
  return [time.getHours(), time.getMinutes()].map((n) => String(n).padStart(2, '0')).join(':');
}
