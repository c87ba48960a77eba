/**
 * Wall-clock times where the party is, as ISO text without a zone. Seconds are added as a clock on the wall would: an evening
 * that the clocks change in the middle of a dance is left to the calendar, which knows zones.
 */
export function addSeconds(local: string, seconds: number): string {
  const whole = local.length === 16 ? `${local}:00` : local;
  return new Date(Date.parse(`${whole}Z`) + Math.round(seconds) * 1000).toISOString().slice(0, 19);
}

/** `19:30:00` of a local date and time. */
export const clockOf = (local: string): string => local.slice(11, 19);
