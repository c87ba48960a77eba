import type { Role } from '../core/areas/people.ts';

/** What the cookie of a browser proves: that it may open a board in a role. */
export interface Grant {
  board: string;
  role: Role;
  /** The link it came by; null for the signed-in instructor. */
  link: string | null;
  /**
   * Who is writing, for remarks and for client ids: the link itself, so that a couple's two phones are one writer, and the
   * instructor's account on all devices.
   */
  membership: string;
  /** The link at the top of those with which this one was made, one with the other; the membership where nobody made it with one. */
  root: string;
  /** It may read on and write nothing: the instructor stopped it. */
  frozen: boolean;
  /** Instant at which it ends; null when it holds until it is revoked. */
  endsAt: string | null;
}

/** Membership of the signed-in instructor, on all devices. */
export const INSTRUCTOR = 'instructor';
/** What the signed-in instructor may do on any board; also whoever runs the server, from a shell. */
export const instructorGrant = (board: string): Grant => ({
  board,
  role: 'instructor',
  link: null,
  membership: INSTRUCTOR,
  root: INSTRUCTOR,
  frozen: false,
  endsAt: null,
});

/** The cookie that holds the session's token; httpOnly, so no script reads it. */
export const COOKIE = 'larkstep';
/** Its name over https: a browser takes it from this very host alone, for all of its paths (RFC 6265bis, section 4.1.3.2). */
export const SECURE_COOKIE = `__Host-${COOKIE}`;

/** The cookie that says in which time zone this browser reads (IANA); written by a page, believed as far as it is a zone. */
export const ZONE = 'larkstep-zone';

/** A cookie's value in a Cookie header; null without one. */
export function cookieIn(header: string | null | undefined, wanted: string): string | null {
  for (const part of (header ?? '').split(';')) {
    const [name, value] = part.trim().split('=', 2);
    if (name === wanted && value) return value;
  }
  return null;
}

/** The session's token among a browser's cookies, by either name; null without one. */
export const tokenAmong = (cookie: (name: string) => string | null | undefined): string | null =>
  cookie(SECURE_COOKIE) || cookie(COOKIE) || null;

/** The session's token in a Cookie header; null without one. */
export const tokenIn = (header: string | null | undefined): string | null =>
  tokenAmong((name) => cookieIn(header, name));

/** Header with the address a request came from, for limits; the server overwrites whatever the client says there. */
export const PEER = 'x-larkstep-peer';
/** Header that the server sets on a request that came over https. */
export const SECURE = 'x-larkstep-secure';
/** Header that the server sets on a request of somebody who may read the metrics. */
export const METRICS = 'x-larkstep-metrics';
