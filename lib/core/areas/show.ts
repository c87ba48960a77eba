import type { TimeOfDay } from '../calendar.ts';
import { floor } from '../dance/floor.ts';
import { storedRecordTime } from '../song/grid.ts';
import { movedAt } from '../song/places.ts';
import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { field } from './field.ts';
import { digest, instant, line, timeOfDay } from './people.ts';

/** Something others do at a moment: guests join, lights, haze, MC silent, camera ready. */
export const moment = z.object({
  at: storedRecordTime,
  who: z.string().max(80),
  what: line,
  /** The recording in which it was set; older boards do not say. */
  recording: digest.optional(),
});

/** Marked final for which plan: digest over the entry's printed facts, which are kept to say what differs. */
export const final = z.object({
  digest,
  at: instant,
  by: z.string().max(120),
  facts: z.record(z.string(), z.string().max(400)),
});

export const showShape = {
  name: 'show',
  version: 2,
  registers: {
    /**
     * When the dance begins, on the clock on the wall where the party is; its day is the plan's. After midnight it is in the night
     * that follows that day.
     */
    time: field(timeOfDay, { of: 'evening', called: 'the time of the dance' }),
    afterMidnight: field(z.boolean(), { of: 'evening', called: 'that it is after midnight' }),
    /** IANA name of the time zone there. */
    zone: field(z.string().max(60), { of: 'evening', called: 'the time zone' }),
    /** Seconds before the music for the walk-on and the announcement, and after it for applause. */
    lead: field(z.number().min(0).max(1800), { of: 'evening', called: 'the seconds before the music' }),
    applause: field(z.number().min(0).max(600), { of: 'evening', called: 'the seconds for applause' }),
    announcedBy: field(z.string().max(120), { of: 'evening', called: 'who announces it' }),
    after: field(line, { of: 'evening', called: 'what follows' }),
    floor: field(floor, { of: 'evening', called: 'the floor' }),
    notes: field(z.string().max(2000), { of: 'evening', called: 'the notes for the evening' }),
    final: field(final, { of: 'said', called: 'that the entry is final' }),
  },
  collections: {
    moments: field(moment, {
      of: 'evening',
      called: 'a moment for others',
      moved: movedAt,
    }),
  },
  richText: [],
  owner: null,
} as const satisfies AreaShape;
export type Show = AreaData<typeof showShape>;

/** Before this hour a dance is counted to the night that began on the day before; common practice, no source. */
const MORNING = '06:00';

/** Whether a time is taken to be after midnight, as long as nobody says otherwise. */
export const isAfterMidnight = (time: TimeOfDay): boolean => time < MORNING;
