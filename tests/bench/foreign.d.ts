/** As much of the library as the bench uses; it ships no description of its own. */
declare module 'music-tempo' {
  export default class MusicTempo {
    constructor(samples: Float32Array);
    tempo: string;
    beats: number[];
  }
}
