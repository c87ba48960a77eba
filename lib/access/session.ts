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

export const INSTRUCTOR = 'instructor';
/** The cookie that holds the session's token; httpOnly, so no script reads it. */
export const COOKIE = 'larkstep';
