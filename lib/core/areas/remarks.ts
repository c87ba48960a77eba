import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { field } from './field.ts';
import { instant, role } from './people.ts';

/** A note among all. `writer` is a membership, stamped and checked by the server: only that one changes it. */
export const remark = z.object({
  writer: z.string().check(z.maxLength(60)),
  name: z.string().check(z.maxLength(120)),
  role,
  at: instant,
  /** What it is about: '' for the whole, else 'song', 'edit', 'dance', 'ending', 'handover'. */
  about: z.enum(['', 'song', 'edit', 'dance', 'ending', 'handover']),
});

export const remarksShape = {
  name: 'remarks',
  version: 1,
  registers: {},
  collections: { remarks: field(remark, { of: 'said', called: 'a remark' }) },
  richText: ['remarks'],
  owner: 'writer',
} as const satisfies AreaShape;
export type Remarks = AreaData<typeof remarksShape>;
