import { z } from '../zod.ts';
import { storedTime } from './grid.ts';

/** One audio file: its identity is the SHA-256 of its bytes, never of decoded samples (decoders differ). */
export const recording = z.object({
  /** SHA-256 of the file's bytes, hex. */
  id: z.string().check(z.regex(/^[0-9a-f]{64}$/)),
  duration: storedTime,
  /** Samples a second, as the file has them. */
  rate: z.int().check(z.minimum(8000), z.maximum(192000)),
  channels: z.int().check(z.minimum(1), z.maximum(8)),
  bytes: z.int().check(z.minimum(1)),
  format: z.enum(['wav', 'mp3', 'flac', 'vorbis', 'opus', 'aac']),
  /** Files laid end to end; one entry today. */
  files: z
    .array(z.object({ file: z.string().check(z.regex(/^[0-9a-f]{64}$/)), from: storedTime }))
    .check(z.length(1)),
});
export type Recording = z.infer<typeof recording>;

/** How the song is named wherever a person must find the same version. */
export const recordingWords = z.object({
  artist: z.string().check(z.maxLength(120)),
  title: z.string().check(z.maxLength(120)),
  version: z.string().check(z.maxLength(120)),
  source: z.string().check(z.maxLength(200)),
});

const share = z.number().check(z.minimum(0), z.maximum(1));
/** What was heard besides grid and sections, which people may correct and which therefore live on their own. */
export const heard = z.object({
  /** Beats a minute, median. */
  tempo: z.number().check(z.minimum(20), z.maximum(400)),
  key: z.string().check(z.maxLength(20)),
  /** Integrated loudness, LUFS (ITU-R BS.1770-4). */
  loudness: z.number().check(z.minimum(-120), z.maximum(20)),
  /** dBTP, four times oversampled (BS.1770-4 annex 2). */
  truePeak: z.number().check(z.minimum(-120), z.maximum(20)),
  firstSound: storedTime,
  lastSound: storedTime,
  confidence: z.object({ beats: share, metre: share, bars: share, sections: share, key: share }),
});
export type Heard = z.infer<typeof heard>;

/**
 * Per frame of fixed length, so that correcting the grid never loses them: loudness, 12 chroma and 6 timbre values, a byte
 * each, base64. With them the checks and hand-made edits need no audio.
 */
export const features = z.object({
  /** Seconds a frame. */
  frame: z.number().check(z.minimum(0.05), z.maximum(2)),
  /** One byte a frame: 0 is -80 LUFS or less, 255 is 0 LUFS (momentary, K-weighted). */
  loudness: z.string().check(z.maxLength(40_000)),
  /** 12 bytes a frame, C first, the loudest pitch class 255. */
  chroma: z.string().check(z.maxLength(400_000)),
  /** 6 bytes a frame: band energies in dB relative to the frame's loudness, low to high. */
  timbre: z.string().check(z.maxLength(200_000)),
});
export type Features = z.infer<typeof features>;
