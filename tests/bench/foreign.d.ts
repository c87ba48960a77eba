/** As much of the libraries' own descriptions as the bench uses; the first ships none. */
declare module 'music-tempo' {
  export default class MusicTempo {
    constructor(samples: Float32Array);
    tempo: string;
    beats: number[];
  }
}
declare module '@audio/beat' {
  export function beatTrack(
    samples: Float32Array,
    options: { fs: number },
  ): { beats: Float64Array; bpm: number };
}
