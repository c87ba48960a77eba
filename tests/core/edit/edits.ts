import fc from 'fast-check';
import type { Edit } from '../../../lib/core/edit/edit.ts';
import { recordTime, wholeMicros } from '../../../lib/core/units.ts';

export const cut = (from: number, to: number) => ({
  from: recordTime(wholeMicros(from)),
  to: recordTime(wholeMicros(to)),
  crossfade: 0.03,
});
export const fade = (from: number, length: number): Edit['end'] => ({
  kind: 'fade',
  ...{ from: recordTime(from), length, shape: 'linear', byHand: false },
});

export const micros = (max: number) => fc.integer({ min: 0, max: max * 1e6 }).map((n) => n / 1e6);
/** Any edit of a recording of 300 s. */
export const anyEdit: fc.Arbitrary<Edit> = fc
  .record({
    times: fc.uniqueArray(micros(290), { minLength: 1, maxLength: 9 }),
    end: fc.option(fc.record({ from: micros(299), length: micros(20) })),
    speed: fc.constantFrom(1, 0.9, 1.1, 0.97),
  })
  .map(({ times, end, speed }) => {
    const [start = 0, ...rest] = times.sort((a, b) => a - b);
    const cuts = rest.flatMap((from, i) => (i % 2 === 0 && rest[i + 1] ? [cut(from, rest[i + 1]!)] : []));
    const last: Edit['end'] = end ? fade(end.from, wholeMicros(end.length + 0.1)) : { kind: 'own' };
    return { start: recordTime(start), cuts, end: last, speed };
  });
