import type { Presence } from '../_client/boardClient.ts';
import { roleWords } from '../_ui/roles.ts';

/** First letters of those who have something in hand, in small circles; their names for a reader. */
export function Initials({ letters }: { letters: string }) {
  if (!letters) return null;
  return (
    <span className="no-print inline-flex gap-1">
      {letters.split('|').map((name) => (
        <span
          key={name}
          title={`${name} is here`}
          className="inline-flex size-5 items-center justify-center rounded-full border border-soft bg-paper text-[0.8rem] font-semibold text-ink"
        >
          <span aria-hidden="true">{name.charAt(0).toUpperCase()}</span>
          <span className="sr-only">{name} is here</span>
        </span>
      ))}
    </span>
  );
}

/** Names of the others, or their roles, by what they have in hand, joined by `|` so that an unchanged row stays as it is. */
export function handsOf(people: readonly Presence[]): Map<string, string> {
  const hands = new Map<string, string>();
  for (const { me, at, role, ...person } of people) {
    if (me || !at) continue;
    const name = person.name || roleWords[role];
    const before = hands.get(at);
    if (!before?.split('|').includes(name)) hands.set(at, before ? `${before}|${name}` : name);
  }
  return hands;
}
