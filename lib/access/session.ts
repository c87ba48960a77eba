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
  endsAt: null,
});

/** The cookie that holds the session's token; httpOnly, so no script reads it. */
export const COOKIE = 'larkstep';

/** The session's token in a Cookie header; null without one. */
export function tokenIn(header: string | null | undefined): string | null {
  for (const part of (header ?? '').split(';')) {
    const [name, value] = part.trim().split('=', 2);
    if (name === COOKIE && value) return value;
  }
  return null;
}

/** Header with the address a request came from, for limits; the server overwrites whatever the client says there. */
export const PEER = 'x-larkstep-peer';
