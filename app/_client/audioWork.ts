import type { Tags } from '@/lib/codec/id3.ts';
import type { CopyCheck } from '@/lib/core/areas/answer.ts';
import type { Cut, Edit } from '@/lib/core/edit/edit.ts';
import type { SongPlan } from '@/lib/core/edit/floorScore.ts';
import type { Problem, Result } from '@/lib/core/result.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import type { Features, Heard, Recording } from '@/lib/core/song/recording.ts';
import type { Section } from '@/lib/core/song/section.ts';
import type { FloorTime, RecordTime } from '@/lib/core/units.ts';

/** What the page and the audio worker say to each other: a table of jobs, what each is given and what it gives. */

/** Everything the plan keeps of a song that was listened to. */
export interface HeardSong {
  recording: Recording;
  heard: Heard;
  features: Features;
  /** Base64, for the copy check. */
  imprint: string;
  grid: Grid;
  sections: Omit<Section, 'id'>[];
}

export interface Wishes {
  /** Seconds of floor length wanted, and how far from it is still fine. */
  target: number;
  within: number;
}

/** A stretch of record time left out, and the sections it takes away. */
export interface LeftOut {
  from: RecordTime;
  to: RecordTime;
  names: string[];
}

/** How well two parts meet; null is "not measured". Distances are against the song's own usual bar-to-bar distance. */
export interface SeamFigures {
  beatErrorMs: number | null;
  levelStepLu: number;
  harmony: number;
  timbre: number;
}

export interface Proposal {
  kind: 'own length' | 'fade' | 'splice' | 'splice and fade';
  floorLength: FloorTime;
  edit: Edit;
  leftOut: LeftOut[];
  seam: SeamFigures | null;
  words: string;
}

export interface PracticeWishes {
  /** Bars counted in before the music. */
  countInBars: number;
  /** The counts are clicked under the music. */
  clicks: boolean;
}

/** What the comparison of somebody's own copy with the recording found. */
export interface CopyComparison {
  verdict: CopyCheck['verdict'];
  offsetMs: number;
  ratio: number;
  confidence: number;
  /** Where the two do not hold the same music, each in the clock of its own. */
  differences: { recordFrom: number; recordTo: number; copyFrom: number; copyTo: number }[];
  /** Seconds the copy lasts. */
  duration: number;
}

export interface AudioJobs {
  load: { given: { bytes: ArrayBuffer }; gives: Recording };
  hear: { given: object; gives: HeardSong };
  propose: { given: { song: SongPlan; features: Features; wishes: Wishes }; gives: Proposal[] };
  measure: { given: { edit: Edit }; gives: Cut[] };
  excerpt: { given: { edit: Edit; from: FloorTime; to: FloorTime }; gives: Blob };
  finished: { given: { edit: Edit; as: 'mp3' | 'wav'; tags: Tags }; gives: Blob };
  practice: {
    given: { edit: Edit; song: SongPlan; wishes: PracticeWishes };
    gives: { file: Blob; lead: number };
  };
  compare: {
    given: { bytes: ArrayBuffer; imprint: string; edits: Edit[] };
    gives: CopyComparison;
  };
}
export type JobName = keyof AudioJobs;
export type Job = { [N in JobName]: { number: number; name: N } & AudioJobs[N]['given'] }[JobName];

/** What is being done, in words, and how far (0 to 1) when that is known. */
export interface Stage {
  words: string;
  share: number | null;
}
export type Said =
  | { number: number; stage: Stage }
  | { number: number; result: Result<AudioJobs[JobName]['gives'], Problem> };
