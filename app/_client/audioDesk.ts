import type { Tags } from '@/lib/codec/id3.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import type { SongPlan } from '@/lib/core/edit/floorScore.ts';
import type { Proposal } from '@/lib/core/edit/propose.ts';
import type { Wishes } from '@/lib/core/edit/ranking.ts';
import { bad, good, type Result } from '@/lib/core/result.ts';
import type { Correction } from '@/lib/core/song/evidence.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import type { Features, Recording } from '@/lib/core/song/recording.ts';
import type { FloorTime } from '@/lib/core/units.ts';
import { fetchBytes } from './audioFetch.ts';
import type {
  AudioJobs,
  CopyComparison,
  CountsAgain,
  HeardSong,
  Job,
  JobName,
  Music,
  Said,
  Stage,
} from './audioWork.ts';

/** A file of the person's, or the id of a recording that the board holds. */
export type AudioSource = Blob | { recording: string };

const STOPPED = bad('stopped', 'Stopped; nothing was changed.');
const BROKEN = bad(
  'broken',
  'This device could not finish the work. A shorter file, or another device, may do it.',
);

/**
 * The one place that decodes, listens, renders and compares. Work is done one after the other in a worker, which keeps the
 * decoded samples of one recording. Every method gives a Result and never throws for bad input; `stop` ends all work (code
 * `stopped`). `stage` says what is being done; it is null while nothing is.
 */
export class AudioDesk {
  stage: Stage | null = null;
  private worker: Worker | null = null;
  private last = 0;
  private waiting = new Map<number, (result: Result<never>) => void>();
  private listeners = new Set<() => void>();
  private held: { id: string; source: AudioSource; recording: Recording } | null = null;
  private fetching: AbortController | null = null;
  /** What is asked for waits for what was asked before: between decoding and using the samples nobody may replace them. */
  private queue: Promise<unknown> = Promise.resolve();
  /** Rises with each stop; what was asked before then is not begun any more. */
  private round = 0;

  constructor(private readonly address: (recording: string) => string) {}

  readonly subscribe = (listener: () => void): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };
  readonly getStage = (): Stage | null => this.stage;

  /** Decodes a recording, unless it is the one already held; gives its facts. */
  load(source: AudioSource): Promise<Result<Recording>> {
    return this.inTurn(() => this.decoded(source));
  }

  /** Listens to a recording: beats, bars, sections, key, loudness, features, imprint. */
  hear(source: AudioSource): Promise<Result<HeardSong>> {
    return this.with(source, () => this.run('hear', {}));
  }

  /** Hears the counts again with all that people said of them. */
  hearAgain(
    source: AudioSource,
    grid: Grid | null,
    said: Correction[],
    lastSound: number,
  ): Promise<Result<CountsAgain>> {
    return this.with(source, () => this.run('again', { grid, said, lastSound }));
  }

  /** Ranked edits of a song, best first. */
  propose(
    source: AudioSource,
    song: SongPlan,
    features: Features,
    wishes: Wishes,
  ): Promise<Result<Proposal[]>> {
    return this.with(source, () => this.run('propose', { song, features, wishes }));
  }

  /** The edit with its joins aligned to the sample and their beat error measured. */
  measure(source: AudioSource, edit: Edit, grid: Grid, features: Features): Promise<Result<Edit>> {
    return this.with(source, () => this.run('measure', { edit, grid, features }));
  }

  /** A stretch of the song as played, as a WAV to listen to; renders no more than that. */
  excerpt(source: AudioSource, edit: Edit, from: FloorTime, to: FloorTime): Promise<Result<Blob>> {
    return this.with(source, () => this.run('excerpt', { edit, from, to }));
  }

  /** The whole edit as a file: MP3 at 320 kbit/s or WAV, with a silent second at its end. */
  finished(source: AudioSource, edit: Edit, as: 'mp3' | 'wav', tags: Tags): Promise<Result<Blob>> {
    return this.with(source, () => this.run('finished', { edit, as, tags }));
  }

  /**
   * The edit to practise on, as a WAV at the recording's own speed; with `counted`, a bar is counted in and the counts of that
   * song are clicked.
   */
  music(source: AudioSource, edit: Edit, counted: SongPlan | null): Promise<Result<Music>> {
    return this.with(source, () => this.run('music', { edit, counted }));
  }

  /**
   * Compares somebody's own copy with the recording by its imprint, on this device; the recording itself is not needed.
   * `edits`: the present edit first, then older ones, so that our own finished files are known again.
   */
  compareCopy(copy: Blob, imprint: string, edits: Edit[]): Promise<Result<CopyComparison>> {
    return this.inTurn(async () => {
      const bytes = await this.bytesOf(copy);
      return bytes.ok ? this.run('compare', { bytes: bytes.value, imprint, edits }, [bytes.value]) : bytes;
    });
  }

  /** Ends all work at once; the recording is decoded anew when it is needed again. */
  stop(): void {
    this.end(STOPPED);
  }

  private end(reason: Result<never>): void {
    this.round += 1;
    this.fetching?.abort();
    this.worker?.terminate();
    this.worker = null;
    this.held = null;
    const waiting = [...this.waiting.values()];
    this.waiting.clear();
    this.say(null);
    for (const settle of waiting) settle(reason);
  }

  private inTurn<T>(work: () => Promise<Result<T>>): Promise<Result<T>> {
    const { round } = this;
    const turn = this.queue.then(() => (round === this.round ? work() : STOPPED));
    this.queue = turn;
    return turn;
  }

  private with<T>(source: AudioSource, work: () => Promise<Result<T>>): Promise<Result<T>> {
    return this.inTurn(async () => {
      const decoded = await this.decoded(source);
      return decoded.ok ? work() : decoded;
    });
  }

  private async decoded(source: AudioSource): Promise<Result<Recording>> {
    const id = 'recording' in source ? source.recording : null;
    const { held } = this;
    if (held && (held.id === id || held.source === source)) return good(held.recording);
    const { round } = this;
    const bytes = await this.bytesOf(source);
    if (!bytes.ok) return bytes;
    if (round !== this.round) return STOPPED;
    this.held = null;
    const loaded = await this.run('load', { bytes: bytes.value }, [bytes.value]);
    if (loaded.ok) this.held = { id: loaded.value.id, source, recording: loaded.value };
    return loaded;
  }

  private async bytesOf(source: AudioSource): Promise<Result<ArrayBuffer>> {
    if (source instanceof Blob) return fetchBytes.ofFile(source);
    this.fetching = new AbortController();
    this.say({ words: 'Fetching the recording', share: null });
    const bytes = await fetchBytes.ofAddress(this.address(source.recording), this.fetching.signal, (share) =>
      this.say({ words: 'Fetching the recording', share }),
    );
    this.say(null);
    return bytes;
  }

  private run<N extends JobName>(
    name: N,
    given: AudioJobs[N]['given'],
    transfer: Transferable[] = [],
  ): Promise<Result<AudioJobs[N]['gives']>> {
    this.worker ??= this.hire();
    const number = ++this.last;
    const { worker } = this;
    return new Promise((resolve) => {
      this.waiting.set(number, resolve as (result: Result<never>) => void);
      worker.postMessage({ number, name, ...given } as unknown as Job, transfer);
    });
  }

  private hire(): Worker {
    const worker = new Worker(new URL('./audio.worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = ({ data }: MessageEvent<Said>) => {
      if ('stage' in data) return this.say(data.stage);
      const settle = this.waiting.get(data.number);
      this.waiting.delete(data.number);
      if (this.waiting.size === 0) this.say(null);
      settle?.(data.result as Result<never>);
    };
    // A bug, or no memory left: nothing that was asked for will be answered any more.
    // A bug, or no memory left: nothing that was asked for will be answered any more.
    worker.onerror = (event) => {
      event.preventDefault();
      this.end(BROKEN);
    };
    return worker;
  }

  private say(stage: Stage | null): void {
    this.stage = stage;
    for (const listener of this.listeners) listener();
  }
}
