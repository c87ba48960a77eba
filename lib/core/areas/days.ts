const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

/** `12 June 2027` of a day, also of one with a time; empty for none. */
export function dayWords(date: string | null): string {
  if (!date) return '';
  const [year, month, day] = date.slice(0, 10).split('-').map(Number);
  return `${day} ${MONTHS[month! - 1]} ${year}`;
}
