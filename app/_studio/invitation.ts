import { dayWords } from '../../lib/core/areas/days.ts';
import type { Role } from '../../lib/core/areas/people.ts';
import type { Plan } from '../../lib/core/areas/plan.ts';
import { type Day, dayAfter, daysBetween } from '../../lib/core/calendar.ts';

/** How long a link holds, as a person chooses it; null days hold until it is taken back. */
export interface Span {
  words: string;
  days: number | null;
}

/** The longest that the server takes, in days. */
const LONGEST = 730;

/** The spans to choose from; first the one that outlasts the party, when its day is known. */
export function spans(today: Day, date: Day | null): Span[] {
  const untilAfter = date ? daysBetween(today, dayAfter(date, 14)) : 0;
  return [
    ...(untilAfter >= 14 && untilAfter <= LONGEST
      ? [{ words: `until ${dayWords(dayAfter(date!, 14))}, two weeks after the day`, days: untilAfter }]
      : []),
    { words: 'for 30 days', days: 30 },
    { words: 'for a year', days: 365 },
    { words: 'until it is taken back', days: null },
  ];
}

const asks: Record<Role, string> = {
  instructor: 'Here you can work on the board with me: song, moves, ending and hand-over.',
  couple: 'Here is your board: the song as it will be played, your moves on it, and a place for notes.',
  dj: 'Here you see exactly what to play and when to start it. Please check it against your copy and say yes there, or suggest something else.',
  planner:
    'Here is the line for your run of show, with its true length and its cues. Please fill in what is open.',
  crew: 'Here are the length and the moments that matter for you.',
};

/** A message ready to send, with the link in a line of its own. */
export function invitation(plan: Plan, role: Role, url: string, from: string): string {
  const { couple, date, venue } = plan;
  const names = couple ? `${couple.one.name} and ${couple.other.name}` : 'the couple';
  const when = [date ? `on ${dayWords(date)}` : '', venue ? `at ${venue}` : ''].filter(Boolean).join(', ');
  const whose =
    role === 'couple' && couple
      ? `Dear ${names},`
      : `Hello, this is about the first dance of ${names}${when ? `, ${when}` : ''}.`;
  return [
    whose,
    asks[role],
    url,
    'The link is only for you: please do not pass it on. You need no account.',
    ...(from ? [from] : []),
  ].join('\n\n');
}
