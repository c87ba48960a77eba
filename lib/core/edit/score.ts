import type { SectionKind } from '../song/section.ts';
import type { Count, FloorTime, RecordTime } from '../units.ts';

/** One count the dancers count, in the song as it is played. */
export interface FloorCount {
  index: Count;
  floor: FloorTime;
  record: RecordTime;
  /** Index into `phrases`; -1 for pick-up counts and counts in no section. */
  phrase: number;
  /** From 0 within its phrase. */
  inPhrase: number;
  /** From 0 within its bar. */
  inBar: number;
  /** Before the first bar: a count of no phrase. */
  pickUp: boolean;
  /** Past the last beat heard, at the mean of the last eight intervals. */
  assumed: boolean;
}

/** A row of the phrase sheet. */
export interface FloorPhrase {
  index: number;
  /** Index into `sections`. */
  section: number;
  first: Count;
  /** Counts in it after the edit. */
  counts: number;
  floor: FloorTime;
  end: FloorTime;
  record: RecordTime;
  /** Its length in counts before the edit, and whether that is what the board's phrase length says. */
  full: number;
  odd: boolean;
}

export interface FloorSection {
  index: number;
  /** Id of the section in the plan. */
  id: string;
  kind: SectionKind;
  /** "verse 2", or the person's own name. */
  name: string;
  like: string;
  first: Count;
  counts: number;
  floor: FloorTime;
  end: FloorTime;
  record: RecordTime;
  /** The edit removes some of it. */
  partial: boolean;
}

/** Where two parts of the recording meet. */
export interface FloorSeam {
  floor: FloorTime;
  from: RecordTime;
  to: RecordTime;
  /** The first count after it. */
  next: Count;
  /** Within 60 ms of the grid and in bar position: counts go on as if nothing happened. */
  clean: boolean;
  /** Counts that are missing (negative) or doubled (positive) within the bar there; 0 when clean. */
  countsOff: number;
  /** Seconds by which the count interval across it differs from the interval around it. */
  off: number;
}

/** The song as danced: counts, phrases and sections in floor time, after the edit. */
export interface FloorScore {
  counts: FloorCount[];
  phrases: FloorPhrase[];
  sections: FloorSection[];
  seams: FloorSeam[];
  /** Kept time / speed: the length of the file. */
  length: FloorTime;
  /** To the last sound. */
  musicLength: FloorTime;
  fade: { from: FloorTime; to: FloorTime } | null;
  countsPerBar: number;
  /** Median seconds a count. */
  interval: number;
}

/** A stretch of the recording that is kept. */
export interface Span {
  from: RecordTime;
  to: RecordTime;
  floor: FloorTime;
}

/** What `compileEdit` gives: exact inverses on what is kept. */
export interface CompiledEdit {
  spans: Span[];
  length: FloorTime;
  speed: number;
  /** null where the edit leaves that moment out. */
  toFloor(record: RecordTime): FloorTime | null;
  toRecord(floor: FloorTime): RecordTime;
}
