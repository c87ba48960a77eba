import type { Edit } from '../edit/edit.ts';
import type { Grid } from '../song/grid.ts';
import type { Features } from '../song/recording.ts';
import type { Cue } from '../song/section.ts';
import type { Ending, Move, PlacedMove, WalkOn } from './move.ts';

/** What dancing needs of a board's plan. The plan area has it; so has a test in a few lines. */
export interface DancePlan {
  grid: Grid | null;
  recording: { duration: number } | null;
  edit: Edit | null;
  features: Features | null;
  cues: Cue[];
  moves: Move[];
  placed: PlacedMove[];
  walkOn: WalkOn | null;
  ending: Ending | null;
}

/** A change to the dance, as data: the same shape as a change to the plan, of which it is a part. */
export type DanceChange =
  | {
      collection: 'placed';
      id: string;
      fields: Partial<Omit<PlacedMove, 'id'>> | null;
    }
  | { collection: 'moves'; id: string; fields: Partial<Omit<Move, 'id'>> | null }
  | { register: 'walkOn'; value: WalkOn | null }
  | { register: 'ending'; value: Ending | null };
