import { z } from '../core/zod.ts';

/** What a route answers when it cannot do what was asked. */
export const problemBody = z.object({ code: z.string(), sentence: z.string() });

/** The status for each code that our own code gives; whatever else is expected to fail is a 422. */
const statuses: Record<string, number> = {
  malformed: 400,
  'not signed in': 401,
  'wrong passphrase': 401,
  'wrong code': 403,
  'no right': 403,
  'other origin': 403,
  'not found': 404,
  'already set up': 409,
  'too slow': 408,
  full: 409,
  'too many': 409,
  ended: 410,
  revoked: 410,
  'too large': 413,
  'too long': 413,
  'not audio': 415,
  range: 416,
  'too often': 429,
  busy: 503,
  'disk full': 507,
  apart: 503,
};
export const statusOf = (code: string): number => statuses[code] ?? 422;
