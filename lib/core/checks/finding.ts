import type { AreaName, Board } from '../areas/board.ts';
import type { PlanChange } from '../areas/change.ts';
import type { Day } from '../calendar.ts';
import type { DancedThrough } from '../dance/dancedThrough.ts';
import type { SolvedEnding } from '../dance/ending.ts';
import type { Place as PathPlace } from '../dance/path.ts';
import type { LaidMove } from '../dance/place.ts';
import type { WalkOnPlan } from '../dance/walkOn.ts';
import type { FloorScore } from '../edit/score.ts';
import type { Result } from '../result.ts';
import type { FeatureTable } from '../song/features.ts';
import type { Grid } from '../song/grid.ts';
import type { Count, FloorTime, RecordTime } from '../units.ts';
import type { Taken } from './taken.ts';

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
  /** Ends the finding, and adds none as severe as it. */
  fix: Fix | null;
}

/**
 * What a rule reports; the check adds the rule's name and severity, and keeps the first of its fixes that holds. Whoever tries a fix
 * reads only which findings there are: place, figures and sentence that take long to find out are getters.
 */
export interface Draft {
  /** What of the board it is about, when a rule may report several: makes the id. */
  about?: string;
  place: Place;
  figures: Record<string, number | string>;
  sentence: string;
  /**
   * Best first; each made only when it is asked for. One is offered only if applying it ends the finding and adds none as severe.
   */
  fixes?: () => Iterable<Fix>;
  /** Where it is less than the rule's. */
  severity?: Severity;
}

/** The dance on its floor score, derived once for all rules. */
export interface Danced {
  score: FloorScore;
  grid: Grid;
  /** Placed moves, those that the edit removed included. */
  laid: LaidMove[];
  /** Placed moves that are played and the ending's, in order. */
  whole: LaidMove[];
  /** Of `whole`, the first of each different move. No rule may find more or less because of where they lie. */
  used: LaidMove[];
  /** How many placed moves are played, links apart. */
  placements: number;
  /** Of `whole`, to ask what is taken. */
  taken: Taken;
  /** `whole` run through the automaton, with the basic between. */
  through: DancedThrough;
  /** Where `whole` leads the couple, from the first step on, in the frame in which they begin. */
  path: PathPlace[];
  /** The counts that a rule about single counts looks at: all of the song, or those near a change that is tried. */
  looked: { from: number; to: number };
  ending: Result<SolvedEnding>;
  /** null for a song without counts. */
  walk: WalkOnPlan | null;
  /** What was heard frame by frame; null where that is unknown. */
  heard: FeatureTable | null;
}

/** What a rule may look at: the board, its dance (null without a grid), and the day it is asked on. */
export interface Sight {
  board: Board;
  danced: Danced | null;
  /** Given by the caller: the core has no clock. */
  today: Day;
}

export interface Rule {
  id: string;
  about: 'song' | 'length' | 'edit' | 'moves' | 'walk-on' | 'ending' | 'handover';
  /** The most that it reports. */
  severity: Severity;
  /** Areas it reads; it is not run for somebody who may not read one of them, and that is said. */
  reads: readonly AreaName[];
  what: string;
  why: string;
  todo: string;
  /** Days before the dance from which it matters; without it, from the beginning. */
  from?: number;
  /** It speaks once the dance is over, when no other does. */
  afterwards?: true;
  /**
   * What it says of a move depends on that move alone, or on those beside it too: where a change of placed moves is tried it is asked
   * about those alone. A property test holds every such rule to that.
   */
  local?: 'itself' | 'beside';
  /** Where its threshold comes from: a source, "common practice, no source", or "from memory". */
  source: string;
  /** What its fix may change; empty when it has none. */
  fixes: readonly string[];
  run(sight: Sight): Draft[];
}
