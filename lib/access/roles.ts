import type { Role } from '../core/areas/people.ts';
import type { Paper } from '../protocol/api.ts';

/** For whom somebody may make and revoke links: the couple invite those of the evening, only the instructor invites them. */
const invites: Record<Role, readonly Role[]> = {
  instructor: ['instructor', 'couple', 'dj', 'planner', 'crew'],
  couple: ['dj', 'planner', 'crew'],
  dj: [],
  planner: [],
  crew: [],
};
export const mayInvite = (role: Role, guest: Role): boolean => invites[role].includes(guest);

/** Whose recording it is. */
export const mayUpload = (role: Role): boolean => role === 'instructor' || role === 'couple';

/** A private calendar address is for those who keep the date. */
export const maySubscribe = (role: Role): boolean => role !== 'dj' && role !== 'crew';

/** Who may take which paper along; what it holds is besides limited to what that person may read. */
const readers: Record<Paper, readonly Role[]> = {
  'dj.pdf': ['instructor', 'couple', 'dj'],
  'couple.pdf': ['instructor', 'couple'],
  'planner.pdf': ['instructor', 'couple', 'planner', 'crew'],
  'planner.ics': ['instructor', 'couple', 'planner', 'crew'],
  'planner.csv': ['instructor', 'couple', 'planner', 'crew'],
  'moves.vtt': ['instructor', 'couple'],
  'board.json': ['instructor', 'couple', 'dj', 'planner', 'crew'],
};
export const mayTake = (role: Role, paper: Paper): boolean => readers[paper].includes(role);
