/** Seconds of what a person wrote: `3:05`, `3.05` is not one, `185`, `1:12.4`; null when it is no time. */
export function secondsOf(text: string): number | null {
  const found = /^\s*(?:(\d{1,2}):)?(\d{1,4}(?:\.\d{1,3})?)\s*$/.exec(text);
  if (!found) return null;
  const [minutes, seconds] = [Number(found[1] ?? 0), Number(found[2])];
  if (found[1] !== undefined && seconds >= 60) return null;
  const total = minutes * 60 + seconds;
  return total > 0 && total <= 900 ? total : null;
}
