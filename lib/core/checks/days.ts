/** Whole days from one ISO date to another; negative when the second is earlier. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.UTC(...parts(to)) - Date.UTC(...parts(from))) / 86_400_000);

function parts(date: string): [number, number, number] {
  const [year, month, day] = date.slice(0, 10).split('-').map(Number);
  return [year!, month! - 1, day!];
}
