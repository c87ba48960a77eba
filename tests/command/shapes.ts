import { z } from 'zod';

/** What programs are promised, written down once more, apart from the code that answers. Strict where the promise is closed. */
const seconds = z.number().min(0);
const share = z.number().min(0).max(1);
const kind = z.enum(['intro', 'verse', 'pre-chorus', 'chorus', 'bridge', 'instrumental', 'outro']);

export const listenShape = z.strictObject({
  duration: seconds,
  metre: z.strictObject({ beats: z.int(), subdivision: z.int() }),
  readings: z
    .array(
      z.strictObject({
        ...{
          beatsPerBar: z.int(),
          subdivision: z.int(),
          tempo: z.number(),
          firstBar: z.number(),
          odds: share,
        },
      }),
    )
    .min(1),
  tempo: z.number(),
  beats: z.array(seconds).min(1),
  bars: z.array(seconds).min(1),
  sections: z.array(z.strictObject({ start: seconds, end: seconds, kind, like: z.string().min(1) })).min(1),
  key: z.string(),
  loudness: z.number(),
  truePeak: z.number(),
  firstSound: seconds,
  lastSound: seconds,
  confidence: z.strictObject({ beats: share, metre: share, bars: share, sections: share, key: share }),
});

export const editShape = z.object({
  start: seconds,
  cuts: z.array(z.object({ from: seconds, to: seconds, crossfade: seconds })),
  end: z.union([
    z.strictObject({ kind: z.literal('own') }),
    z.strictObject({
      kind: z.literal('fade'),
      from: seconds,
      length: seconds,
      shape: z.string(),
      byHand: z.boolean(),
    }),
  ]),
  speed: z.number(),
});

export const shapeShape = z.strictObject({
  song: z.looseObject({ duration: seconds }),
  proposals: z
    .array(
      z.strictObject({
        kind: z.enum(['own length', 'fade', 'splice', 'splice and fade']),
        floorLength: seconds,
        edit: editShape,
        leftOut: z.array(z.strictObject({ from: seconds, to: seconds, names: z.array(z.string()) })),
        seam: z
          .strictObject({
            beatErrorMs: z.number().nullable(),
            levelStepLu: z.number(),
            harmony: z.number(),
            timbre: z.number(),
          })
          .nullable(),
        words: z.string().min(1),
      }),
    )
    .min(1),
});

/** Seconds of the recording and of the copy. */
const fromTo = z.strictObject({
  recordFrom: z.number(),
  recordTo: z.number(),
  copyFrom: z.number(),
  copyTo: z.number(),
});

export const compareShape = z.strictObject({
  verdict: z.enum(['same', 'shifted', 'cut differently', 'another recording']),
  offsetMs: z.number(),
  ratio: z.number(),
  differences: z.array(fromTo),
  stretches: z.array(fromTo),
  confidence: share,
});

export const checkShape = z.strictObject({
  findings: z.array(
    z.strictObject({
      id: z.string().min(1),
      rule: z.string().min(1),
      severity: z.enum(['blocks', 'warns', 'hints']),
      place: z.strictObject({
        recordTime: z.number().nullable(),
        floorTime: z.number().nullable(),
        section: z.string().nullable(),
        phrase: z.number().nullable(),
        count: z.number().nullable(),
      }),
      figures: z.record(z.string(), z.union([z.number(), z.string()])),
      sentence: z.string().min(1),
      fix: z.looseObject({ words: z.string() }).nullable(),
    }),
  ),
});

const figures = {
  beatF: share,
  downbeatF: share,
  cmlt: share,
  amlt: share,
  tempo1: share,
  tempo2: share,
  boundary05: share,
  boundary3: share,
  seconds: z.number().positive(),
};
const more = { metreOk: share.optional(), sameMusicF: share.optional(), keyOk: share.optional() };
const interval = z.strictObject({ n: z.int().min(1), low: share, high: share });
const { seconds: _, ...shares } = figures;
const calibration = z.strictObject({
  n: z.int().min(1),
  error: share,
  doubted: share,
  bins: z.array(z.strictObject({ from: share, to: share, n: z.int().min(1), said: share, right: share })),
});
export const scoreShape = z.strictObject({
  songs: z.array(z.strictObject({ name: z.string(), folder: z.string(), ...figures, ...more })).min(1),
  mean: z.strictObject({ ...figures, ...more }),
  /** Songs in all folders. */
  n: z.int().min(1),
  /** 90 % interval of each mean. */
  interval: z
    .strictObject(Object.fromEntries(Object.keys({ ...shares, ...more }).map((name) => [name, interval])))
    .partial(),
  calibration: z
    .strictObject({
      ...{ beats: calibration, metre: calibration, bars: calibration },
      ...{ sections: calibration, key: calibration, song: calibration },
    })
    .partial(),
});
