/** Seconds of a time as people write it: `3:02`, `3:02.5`, `182`. Null when it is none. */
export function parseClock(text: string): number | null {
  const match = /^\s*(?:(\d{1,3}):)?(\d{1,4})(?:[.,](\d{1,3}))?\s*$/.exec(text);
  if (!match) return null;
  const [, minutes, seconds, rest] = match;
  if (minutes !== undefined && Number(seconds) >= 60) return null;
  return Number(minutes ?? 0) * 60 + Number(seconds) + (rest ? Number(`0.${rest}`) : 0);
}

/** A number as people write it, with point or comma, brought into its bounds. Null when it is none. */
export function parseNumber(text: string, least: number, most: number): number | null {
  const value = Number(text.trim().replace(',', '.'));
  if (text.trim() === '' || !Number.isFinite(value)) return null;
  return Math.min(most, Math.max(least, value));
}
