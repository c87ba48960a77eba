/** What somebody looked at before they give their word for it. */
export interface Looking<T> {
  /** What was on the screen when they began to look, or when a tap last showed what had changed. */
  seen: T;
  /** What they began with, once a tap has shown that it changed; null until then. */
  before: T | null;
}

/**
 * What a tap does: it gives the word if what stands there is what was looked at. Else it only shows what changed, and the next tap is
 * for that.
 * @param now what the word would be given for
 * @param digestOf the same for what reads the same
 */
export function tapped<T>(
  { seen, before }: Looking<T>,
  now: T,
  digestOf: (what: T) => string,
): { gives: boolean; looking: Looking<T> } {
  const is = (what: T | null) => what !== null && digestOf(what) === digestOf(now);
  if (is(seen) || is(before)) return { gives: true, looking: { seen, before } };
  return { gives: false, looking: { seen: now, before: before ?? seen } };
}

type Facts = Readonly<Record<string, string>>;

/** Facts that were seen, with what a person has changed of them by their own hand: that they know without looking. */
export function withOwn(seen: Facts, before: Facts, after: Facts): Facts {
  const own = [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (label) => before[label] !== after[label],
  );
  const kept = Object.entries(seen).filter(([label]) => !own.includes(label));
  const made = Object.entries(after).filter(([label]) => own.includes(label));
  return Object.fromEntries([...kept, ...made]);
}
