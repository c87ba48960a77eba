import fc from 'fast-check';
import { expect, test } from 'vitest';
import { UpdateLog } from '../../lib/board/updateLog.ts';

const update = fc.uint8Array({ maxLength: 3000 });

test('what was kept comes back in its order, whatever becomes of the arrays it was given in', () => {
  fc.assert(
    fc.property(fc.array(update, { minLength: 1 }), ([first, ...others]) => {
      const expected = [first!, ...others].map((one) => [...one]);
      const log = new UpdateLog(first!);
      first!.fill(0);
      for (const other of others) {
        log.push(other);
        other.fill(0);
      }
      expect(log.length).toBe(expected.length);
      expect([...log].map((one) => [...one])).toEqual(expected);
    }),
  );
});

test('each comes back in memory that is only its own', () => {
  const log = new UpdateLog(Uint8Array.of(1, 2));
  log.push(Uint8Array.of(3));
  for (const one of log) expect(one.buffer.byteLength).toBe(one.length);
});
