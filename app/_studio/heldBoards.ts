import { services } from '@/lib/access/services.ts';
import type { Role } from '@/lib/core/areas/people.ts';

/** A board that this browser holds a link to. */
export interface HeldBoard {
  board: string;
  role: Role;
  /** Null where nobody has named them yet. */
  couple: { one: string; other: string } | null;
  song: string;
  date: string | null;
}

/** What this browser may open by its links, by date; server only. */
export async function boardsOf(token: string | null): Promise<HeldBoard[]> {
  const { grants, boards } = services();
  const held = await Promise.all(
    (await grants.all(token)).map(async ({ board, role }) => {
      const read = await boards.read(board, role);
      // One that cannot be read just now is held all the same.
      if (!read.ok)
        return read.problem.code === 'apart' ? { board, role, couple: null, song: '', date: null } : null;
      const { couple, recordingWords, title, date } = read.value.plan;
      return {
        board,
        role,
        couple: couple && { one: couple.one.name, other: couple.other.name },
        song: recordingWords?.title || title || '',
        date,
      };
    }),
  );
  return held
    .filter((found) => found !== null)
    .sort((a, b) => (a.date ?? '9999').localeCompare(b.date ?? '9999'));
}
