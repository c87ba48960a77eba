import { expect, test } from 'vitest';
import { rangeOf } from '../../lib/protocol/range.ts';

// Cases of RFC 9110, section 14.1.2, for a representation of 10000 bytes; several ranges are answered with the whole.
test.each([
  ['bytes=0-499', { from: 0, to: 499 }],
  ['bytes=500-999', { from: 500, to: 999 }],
  ['bytes=-500', { from: 9500, to: 9999 }],
  ['bytes=9500-', { from: 9500, to: 9999 }],
  ['bytes=0-20000', { from: 0, to: 9999 }],
  ['bytes=-20000', { from: 0, to: 9999 }],
  ['bytes=10000-', 'unsatisfiable'],
  ['bytes=-0', 'unsatisfiable'],
  ['bytes=0-0,-1', null],
  ['bytes=9-1', null],
  ['lines=1-2', null],
  [null, null],
])('%s', (header, wanted) => expect(rangeOf(header, 10_000)).toEqual(wanted));
