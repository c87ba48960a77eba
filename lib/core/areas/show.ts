import { storedRecordTime } from '../song/grid.ts';
import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { digest, instant, isoDateTime, line } from './people.ts';

/** The floor: metres, and what is on or around it. */
export const floor = z.object({
  width: z.number().min(1).max(100),
  depth: z.number().min(1).max(100),
  surface: line,
  obstacles: line,
  guests: line,
});
/** Something others do at a moment: guests join, lights, haze, MC silent, camera ready. */
export const moment = z.object({ at: storedRecordTime, who: z.string().max(80), what: line });

export const showShape = {
  name: 'show',
  version: 1,
  registers: {
    /** Wall-clock start where the party is, and its time zone (IANA). */
    startsAt: isoDateTime,
    zone: z.string().max(60),
    /** Seconds before the music for the walk-on and the announcement, and after it for applause. */
    lead: z.number().min(0).max(1800),
    applause: z.number().min(0).max(600),
    announcedBy: z.string().max(120),
    after: line,
    floor,
    notes: z.string().max(2000),
    /** Marked final for which plan: digest over the entry's printed facts, which are kept to say what differs. */
    final: z.object({
      digest,
      at: instant,
      by: z.string().max(120),
      facts: z.record(z.string(), z.string().max(400)),
    }),
  },
  collections: { moments: moment },
  richText: [],
  owner: null,
} as const satisfies AreaShape;
export type Show = AreaData<typeof showShape>;
