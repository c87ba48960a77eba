/** What a board may hold of recordings, and how they come in; the sentences of refusals are made from these. */
export const recordingLimits = {
  /** Bytes of one: 15 minutes as WAV fit, and MP3 or FLAC are smaller. */
  largest: 100_000_000,
  /** A board's song, its other versions and finished files. */
  most: 12,
  mostBytes: 500_000_000,
  /** Being sent at once, to the whole server and to one board. */
  atOnce: 6,
  atOnceToBoard: 2,
  /** Seconds without a byte, and bytes a second over all after as long: slower is no line to send a song by. */
  longestPauseS: 30,
  slowest: 8_000,
} as const;

export const megabytes = (bytes: number): string => `${Math.round(bytes / 1_000_000)} MB`;
