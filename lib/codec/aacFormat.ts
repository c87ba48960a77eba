/** The sound of an M4A file or an ADTS stream, still coded. */
export interface AacTrack {
  /** The AudioSpecificConfig (ISO/IEC 14496-3, 1.6.2.1). */
  config: Uint8Array;
  /** Samples a second and channels of the core; where the upper half is coded apart, what is heard has twice the rate. */
  rate: number;
  channels: number;
  /** Access units, 1,024 samples of the core each (14496-3, 4.5.1.1). */
  frames: Uint8Array[];
  /** Frames that the file names and does not hold; Infinity where it ends before it could name them. */
  missing: number;
  /** What of the sound is music; null where the file does not say. */
  music: Music | null;
}

/** Seconds that the coder put before the music, and of music; null: all that follows. */
export type Music =
  | { by: 'edit list'; skip: number; length: number | null }
  /** Samples as they are heard: before, after and of the music. Only where they add up to the whole is it true. */
  | { by: 'tag'; before: number; after: number; samples: number };

/** Samples of the core in a frame. */
export const AAC_FRAME = 1024;
/** More than a quarter of an hour at the highest rate; what claims more is read no further, since a table may claim four thousand million. */
export const MOST_FRAMES = 90_000;
/** Samples a second by their index (14496-3, table 1.18). */
export const AAC_RATES = [
  96000, 88200, 64000, 48000, 44100, 32000, 24000, 22050, 16000, 12000, 11025, 8000, 7350,
];
