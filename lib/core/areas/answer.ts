import { edit } from '../edit/edit.ts';
import { z } from '../zod.ts';
import type { AreaData, AreaShape } from './area.ts';
import { field } from './field.ts';
import { digest, instant } from './people.ts';

/** What the comparison of the DJ's copy with the recording found; nothing is uploaded. */
export const copyCheck = z.object({
  verdict: z.enum([
    'same',
    'shifted',
    'cut differently',
    'another recording',
    'finished file',
    'older finished file',
  ]),
  /** How much later, in ms, the copy's clock shows the same moment at its beginning. */
  offsetMs: z.number(),
  /** Copy duration / recording duration of the same music. */
  ratio: z.number().check(z.minimum(0.5), z.maximum(2)),
  confidence: z.number().check(z.minimum(0), z.maximum(1)),
  at: instant,
  /** The recording that it was compared with, and the digest of the edit as it was then. */
  recording: z.optional(digest),
  digest: z.optional(digest),
  /** What they said then that they play: a check of their own copy says nothing of the finished file. */
  plays: z.optional(z.enum(['finished file', 'own copy'])),
});
export type CopyCheck = z.infer<typeof copyCheck>;

/** A check of the DJ's copy that was begun, or went wrong; taken away once there is a result. One that never ends has found nothing. */
export const copyTrial = z.object({
  state: z.enum(['begun', 'failed']),
  at: instant,
  /** The recording that it is compared with. */
  recording: z.optional(digest),
});

/** Every fact that the DJ's page and paper showed (`djPrinted`), and the digest of these. */
export const covers = z.object({
  digest,
  facts: z.record(z.string().check(z.maxLength(60)), z.string().check(z.maxLength(400))),
});

/** The DJ's word, bound to the exact edit that it was given for. Order comes from `at`. */
export const djAnswer = z.object({
  kind: z.enum(['yes', 'proposal']),
  at: instant,
  by: z.string().check(z.maxLength(120)),
  plays: z.enum(['finished file', 'own copy']),
  /** Digest of the edit it was given for, and that edit, so that the difference can be told later. */
  digest,
  edit,
  words: z.string().check(z.maxLength(600)),
  /** What the DJ would play instead; null with a plain yes. */
  proposal: z.nullable(edit),
  /** What was read when it was given. Older answers do not say: they are to the edit alone. */
  covers: z.optional(covers),
});
export type DjAnswer = z.infer<typeof djAnswer> & { id: string };

export const answerShape = {
  name: 'answer',
  version: 1,
  registers: {
    copy: field(copyCheck, { of: 'said', called: 'the check of the DJ’s copy' }),
    checking: field(copyTrial, { of: 'said', called: 'that the DJ’s copy is being checked' }),
    plays: field(z.enum(['finished file', 'own copy']), { of: 'said', called: 'what the DJ plays' }),
  },
  collections: { answers: field(djAnswer, { of: 'said', called: 'what the DJ said' }) },
  richText: [],
  owner: null,
} as const satisfies AreaShape;
export type Answer = AreaData<typeof answerShape>;
