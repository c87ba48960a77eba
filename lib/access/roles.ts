import type { AreaName } from '../core/areas/board.ts';
import type { Role } from '../core/areas/people.ts';
import type { Paper } from '../protocol/api.ts';

export type Right = 'read' | 'write' | 'none';
export type Action = 'read' | 'write';

/** Who may do what with which area. Writing includes reading. */
const rights: Record<Role, Record<AreaName, Right>> = {
  instructor: { plan: 'write', lessons: 'write', remarks: 'write', answer: 'read', show: 'write' },
  couple: { plan: 'write', lessons: 'write', remarks: 'write', answer: 'read', show: 'read' },
  dj: { plan: 'read', lessons: 'none', remarks: 'write', answer: 'write', show: 'read' },
  planner: { plan: 'read', lessons: 'none', remarks: 'write', answer: 'read', show: 'write' },
  crew: { plan: 'read', lessons: 'none', remarks: 'none', answer: 'read', show: 'read' },
};

export function may(role: Role, area: AreaName, action: Action): boolean {
  const right = rights[role][area];
  return right === 'write' || (right === 'read' && action === 'read');
}

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
