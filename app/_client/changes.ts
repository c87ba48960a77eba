import type { AreaName, Board } from '@/lib/core/areas/board.ts';
import type { PlanChange } from '@/lib/core/areas/change.ts';
import type { Role } from '@/lib/core/areas/people.ts';
import { OwnSteps, type StepLog, type Turning } from '@/lib/core/areas/steps.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { type ChangeTo, Gate, type How, WAITS } from './gate.ts';
import type { Policy } from './policy.ts';
import type { WaitingPlace } from './waitingChanges.ts';

/** Where the board lies that is changed. */
export interface Kept {
  role: Role;
  read(): Board;
  mayWrite(area: AreaName): boolean;
  /** Writes what may be written: all as one, or none and a sentence why. */
  write<N extends AreaName>(area: N, changes: readonly ChangeTo<N>[]): Result<true>;
}

/** A person's changes to a board: through the gate, with undo of their own changes to the plan and what goes along with it. */
export class Changes {
  readonly gate: Gate;
  readonly steps: OwnSteps;
  /** Why the last change, undo or redo left something as it is; empty when it did not. */
  left = '';
  /** Told of each gesture that changed the plan; of an undo or redo that there is none to tell of any more. */
  onGesture: ((made: { before: Board; after: Board } | null) => void) | null = null;

  constructor(
    private readonly kept: Kept,
    policy: { here(): Policy | null; load(): Promise<Policy> },
    fresh: () => string,
    log: StepLog,
    private readonly onTurn: () => void,
    place: WaitingPlace | null = null,
  ) {
    this.steps = new OwnSteps(log);
    const make = <N extends AreaName>(area: N, changes: readonly ChangeTo<N>[], how: How) =>
      this.make(area, changes, how);
    this.gate = new Gate(
      { role: kept.role, read: () => kept.read(), make },
      policy,
      fresh,
      (problem) => {
        if (problem !== '') this.left = problem;
        onTurn();
      },
      place,
    );
  }

  /**
   * All of it in one step, or nothing and a sentence why. Where something agreed would be undone the person is asked first: the
   * problem then is `waits`, without a sentence, and `how.done` is called once it is made.
   */
  change<N extends AreaName>(area: N, changes: readonly ChangeTo<N>[], how: How = {}): Result<true> {
    this.left = '';
    return this.gate.change(area, changes, how);
  }

  /** Takes back this page's own last change to the plan, or does it again. */
  turn(way: Turning): void {
    if (!this.kept.mayWrite('plan') && !this.kept.mayWrite('show')) return;
    const turn = this.steps.turn(way, this.kept.read());
    if (typeof turn === 'string') this.left = turn;
    else if (turn !== null) {
      const made = this.change('plan', turn.changes, { way: 'undo', along: turn.along, turn });
      if (!made.ok && made.problem.code !== WAITS) {
        this.steps.drop(way);
        this.left = made.problem.sentence;
      }
    }
    this.onTurn();
  }

  private make<N extends AreaName>(area: N, changes: readonly ChangeTo<N>[], how: How): Result<true> {
    const { along = [], turn } = how;
    const before = this.kept.read();
    // Who may write no plan may still take something along.
    const written = changes.length > 0 ? this.kept.write(area, changes) : good<true>(true);
    if (!written.ok) return written;
    const followed = along.length > 0 ? this.kept.write('show', along) : written;
    if (!followed.ok) this.left = followed.problem.sentence;
    if (area !== 'plan') return written;
    const after = this.kept.read();
    if (turn) this.left = turn.made(before, after);
    else this.steps.note(before, after, changes as unknown as readonly PlanChange[], along);
    this.onGesture?.(turn ? null : { before, after });
    return written;
  }
}
