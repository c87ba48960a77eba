import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { AacProgram } from '@/lib/codec/aac.ts';
import { type Decoded, decode, LIMITS } from '@/lib/codec/decode.ts';
import { encodeMp3 } from '@/lib/codec/mp3.ts';
import { loadStretch } from '@/lib/codec/stretch.ts';
import { wavPieces } from '@/lib/codec/wav.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import { floorScore } from '@/lib/core/edit/floorScore.ts';
import { practiceMix } from '@/lib/core/edit/practiceMix.ts';
import { shape } from '@/lib/core/edit/propose.ts';
import { djFile, rendering, renderRange } from '@/lib/core/edit/render.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import { asSound, type Sound } from '@/lib/core/signal/sound.ts';
import type { Recording } from '@/lib/core/song/recording.ts';
import { wholeMicros } from '@/lib/core/units.ts';
import { type HeldSong, heardAgain } from './audioAgain.ts';
import { compareWith } from './audioCompare.ts';
import { hearSong } from './audioHear.ts';
import { measured } from './audioMeasure.ts';
import type { AudioJobs, JobName, Stage } from './audioWork.ts';

type Report = (stage: Stage) => void;
type Work = {
  [N in JobName]: (given: AudioJobs[N]['given'], report: Report) => Promise<Result<AudioJobs[N]['gives']>>;
};

/** What differs between a browser's worker and node. */
export interface Platform {
  aac?: AacProgram;
  /** The MP3 encoder's program, where a page's policy forbids the copy inlined in its package. */
  mp3Encoder?: () => Promise<ArrayBuffer>;
  /** Bytes of decoded sound that this device holds. */
  decodedBytes?: number;
}

/** The worker's bench: the decoded samples of one recording, and what can be made of them. */
export class AudioBench {
  private held: (HeldSong & { recording: Recording }) | null = null;

  constructor(private readonly platform: Platform = {}) {}

  do<N extends JobName>(
    name: N,
    given: AudioJobs[N]['given'],
    report: Report,
  ): Promise<Result<AudioJobs[N]['gives']>> {
    return (this.work[name] as Work[N])(given, report);
  }

  private readonly work: Work = {
    load: async ({ bytes }, report) => {
      this.held = null;
      const whole = new Uint8Array(bytes);
      const decoded = await this.decoded(whole, 'Reading the file', report);
      if (!decoded.ok) return decoded;
      const { samples, format, rate, channels, duration } = decoded.value;
      const id = bytesToHex(sha256(whole));
      const recording: Recording = {
        ...{ id, format, rate, channels, bytes: whole.length, duration: wholeMicros(duration) },
        files: [{ file: id, from: 0 }],
      };
      this.held = { samples, recording };
      return good(recording);
    },
    hear: async (_, report) => {
      const held = this.held;
      return held ? hearSong(held.samples, held.recording, report) : notLoaded;
    },
    again: async (given, report) => (this.held ? heardAgain(this.held, given, report) : notLoaded),
    propose: async ({ song, features, wishes }, report) => {
      if (!this.held) return notLoaded;
      report({ words: 'Looking for places that go together', share: null });
      return good(shape({ plan: song, features, samples: this.held.samples }, wishes));
    },
    measure: async ({ edit, grid, features }, report) => {
      if (!this.held) return notLoaded;
      report({ words: 'Measuring the join', share: null });
      return good(measured(this.held.samples, edit, grid, features));
    },
    excerpt: async ({ edit, from, to }) => {
      if (!this.held) return notLoaded;
      const made = renderRange(this.held.samples, edit, from, to, await stretchFor(edit));
      return made.ok ? good(wavOf(asSound(made.value))) : made;
    },
    finished: async ({ edit, as, tags }, report) => {
      if (!this.held) return notLoaded;
      const words = as === 'wav' ? 'Making the file' : 'Making the MP3';
      const made = djFile(this.held.samples, edit, {
        report: (share) => report({ words, share }),
        stretch: await stretchFor(edit),
      });
      if (!made.ok) return made;
      if (as === 'wav') return good(wavOf(made.value));
      const wasm = await this.platform.mp3Encoder?.();
      const mp3 = await encodeMp3(made.value, tags, wasm ? { wasm } : {});
      return mp3.ok ? good(new Blob([mp3.value], { type: 'audio/mpeg' })) : mp3;
    },
    music: async ({ edit, counted }, report) => {
      if (!this.held) return notLoaded;
      const tell = (share: number | null) => report({ words: 'Preparing the music', share });
      tell(null);
      // The player changes the speed, so that practice need not wait for a file to be stretched.
      const { speed } = edit;
      const own: Edit = { ...edit, speed: 1 };
      const { samples } = this.held;
      if (counted) {
        const mix = practiceMix(samples, own, floorScore(counted, own), { report: tell });
        return mix.ok ? good({ file: wavOf(mix.value.sound), lead: mix.value.lead, tempo: speed }) : mix;
      }
      const made = rendering(samples, own, { report: tell });
      return made.ok ? good({ file: wavOf(made.value), lead: 0, tempo: speed }) : made;
    },
    compare: async ({ bytes, imprint, edits }, report) => {
      const copy = await this.decoded(new Uint8Array(bytes), 'Reading your copy', report);
      if (!copy.ok) return copy;
      report({ words: 'Comparing', share: null });
      return compareWith(copy.value.samples, imprint, edits);
    },
  };

  private decoded(bytes: Uint8Array, words: string, report: Report): Promise<Result<Decoded>> {
    const { aac, decodedBytes } = this.platform;
    return decode(bytes, {
      ...(aac ? { aac } : {}),
      limits: { ...LIMITS, ...(decodedBytes ? { decodedBytes } : {}) },
      report: (share) => report({ words, share }),
    });
  }
}

const notLoaded = bad('not loaded', 'The recording was not read yet. Please try again.');

const stretchFor = async ({ speed }: Edit) => (speed === 1 ? undefined : loadStretch());

/** Piece by piece into blobs, which a browser may keep outside the page's memory. */
function wavOf(sound: Sound): Blob {
  const pieces: Blob[] = [];
  for (const piece of wavPieces(sound, 16)) pieces.push(new Blob([piece]));
  return new Blob(pieces, { type: 'audio/wav' });
}
