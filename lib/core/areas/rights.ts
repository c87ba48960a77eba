import type { AreaName } from './board.ts';
import type { Role } from './people.ts';

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
