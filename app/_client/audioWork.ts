import type { Tags } from '@/lib/codec/id3.ts';
import type { CopyCheck } from '@/lib/core/areas/answer.ts';
import type { Stretch } from '@/lib/core/compare/differences.ts';
import type { Edit } from '@/lib/core/edit/edit.ts';
import type { SongPlan } from '@/lib/core/edit/floorScore.ts';
import type { Proposal } from '@/lib/core/edit/propose.ts';
import type { Wishes } from '@/lib/core/edit/ranking.ts';
import type { Problem, Result } from '@/lib/core/result.ts';
import type { Choice, Question } from '@/lib/core/song/ask.ts';
import type { Correction } from '@/lib/core/song/evidence.ts';
import type { Grid } from '@/lib/core/song/grid.ts';
import type { Features, Heard, Recording } from '@/lib/core/song/recording.ts';
import type { Section } from '@/lib/core/song/section.ts';
import type { FloorTime } from '@/lib/core/units.ts';

/** What the page and the audio worker say to each other: a table of jobs, what each is given and what it gives. */

/** Everything the plan keeps of a song that was listened to. Where no beat was heard, `heard` and `grid` are null. */
export interface HeardSong {
  recording: Recording;
  heard: Heard | null;
  features: Features;
  /** Base64, for the copy check. */
  imprint: string;
  grid: Grid | null;
  /** Why there is no grid; empty when there is one. */
  word: string;
  sections: Omit<Section, 'id'>[];
}

/** The counts as they are heard with all that people said. */
export interface CountsAgain {
  grid: Grid;
  /** Seconds by which a hand was late, one for each correction. */
  late: number[];
  /** Ways to count the song, best first, and the question that would settle most. */
  choices: Choice[];
  question: Question | null;
}

/** Music to play along with; places in the file are `lead` + floor time x `tempo`. */
export interface Music {
  file: Blob;
  /** Seconds counted in before the music. */
  lead: number;
  /** Speed at which the edit is played, against that of the file. */
  tempo: number;
}

/** What the comparison of somebody's own copy with the recording found. */
export interface CopyComparison {
  verdict: CopyCheck['verdict'];
  offsetMs: number;
  ratio: number;
  confidence: number;
  /** Where the two do not hold the same music, each in the clock of its own. */
  differences: { recordFrom: number; recordTo: number; copyFrom: number; copyTo: number }[];
  /** What the copy shows of the whole recording as it is. */
  stretches: Stretch[];
  /** Seconds the copy lasts. */
  duration: number;
}

export interface AudioJobs {
  load: { given: { bytes: ArrayBuffer }; gives: Recording };
  hear: { given: object; gives: HeardSong };
  again: {
    given: { grid: Grid | null; said: Correction[]; lastSound: number };
    gives: CountsAgain;
  };
  propose: { given: { song: SongPlan; features: Features; wishes: Wishes }; gives: Proposal[] };
  measure: { given: { edit: Edit; grid: Grid; features: Features }; gives: Edit };
  excerpt: { given: { edit: Edit; from: FloorTime; to: FloorTime }; gives: Blob };
  finished: { given: { edit: Edit; as: 'mp3' | 'wav'; tags: Tags }; gives: Blob };
  music: { given: { edit: Edit; counted: SongPlan | null }; gives: Music };
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
  /** What was heard in the song by now; absent until something was. */
  heard?: string;
}
export type Said =
  | { number: number; stage: Stage }
  | { number: number; result: Result<AudioJobs[JobName]['gives'], Problem> };
