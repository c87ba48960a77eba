import { z } from '@/lib/core/zod.ts';
import { playedEdit } from '../../lib/core/agreed/played.ts';
import type { Board } from '../../lib/core/areas/board.ts';
import { digestOf } from '../../lib/core/edit/digest.ts';
import { type Edit, edit } from '../../lib/core/edit/edit.ts';

const marked = z.object({ edit: z.nullable(edit) });

/**
 * The present edit first, then every other that the board remembers: those that the DJ answered or suggested, and those of
 * its marks. With them, a finished file of an earlier version is known again.
 */
export function knownEdits({ plan, answer }: Board): Edit[] {
  const { recording } = plan;
  const present = playedEdit(plan);
  if (!recording) return [present];
  const answered = [...(answer?.answers ?? [])]
    .sort((a, b) => b.at.localeCompare(a.at))
    .flatMap((each) => (each.proposal ? [each.edit, each.proposal] : [each.edit]));
  const all = [present, ...answered, ...plan.marks.flatMap(({ state }) => editOf(state))];
  return [...new Map(all.map((each) => [digestOf(each, recording), each])).values()];
}

/** Of a mark's JSON; nothing where a person has tampered with it. */
function editOf(state: string): Edit[] {
  try {
    const parsed = marked.safeParse(JSON.parse(state));
    return parsed.success && parsed.data.edit ? [parsed.data.edit] : [];
  } catch {
    return [];
  }
}
