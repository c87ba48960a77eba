import type { AreaName, Board } from '../areas/board.ts';
import type { PlanChange } from '../areas/change.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Count, FloorTime, RecordTime } from '../units.ts';

export type Severity = 'blocks' | 'warns' | 'hints';

/** Where a finding sits; null for what does not apply. */
export interface Place {
  recordTime: RecordTime | null;
  floorTime: FloorTime | null;
  /** Name of the section, and number of the phrase on the floor score. */
  section: string | null;
  phrase: number | null;
  count: Count | null;
}

export interface Fix {
  /** What applying it does, as a button says it: "Start it one bar earlier". */
  words: string;
  changes: PlanChange[];
}

/** One thing that the checks have to say. */
export interface Finding {
  /** Stable: rule, and what it is about. */
  id: string;
  rule: string;
  severity: Severity;
  place: Place;
  figures: Record<string, number | string>;
  /** A sentence a couple understands. */
  sentence: string;
  fix: Fix | null;
}

/** What a rule may look at: the board, its floor score (null without a grid), and the day it is asked on. */
export interface Sight {
  board: Board;
  score: FloorScore | null;
  /** ISO date of today, given by the caller: the core has no clock. */
  today: string;
}

export interface Rule {
  id: string;
  about: 'song' | 'length' | 'edit' | 'moves' | 'walk-on' | 'ending' | 'handover';
  severity: Severity;
  /** Areas it reads; it is not run for somebody who may not read one of them, and that is said. */
  reads: readonly AreaName[];
  what: string;
  why: string;
  todo: string;
  /** Where its threshold comes from: a source, "common practice, no source", or "from memory". */
  source: string;
  /** What its fix may change; empty when it has none. */
  fixes: readonly string[];
  run(sight: Sight): Finding[];
}
