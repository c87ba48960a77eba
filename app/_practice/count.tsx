import type { Moment } from './followed.ts';

/** What the dancers say at this moment, where there is something. */
export function Count({ moment }: { moment: Moment }) {
  if (!moment.said) return null;
  return (
    <>
      <span className="sr-only">Count </span>
      {moment.said}
    </>
  );
}
