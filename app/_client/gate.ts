import type { Gesture, Way } from '@/lib/core/agreed/gesture.ts';
import type { Question } from '@/lib/core/agreed/question.ts';
import type { AreaName, areas, Board } from '@/lib/core/areas/board.ts';
import type { Change } from '@/lib/core/areas/change.ts';
import { withFreshIds } from '@/lib/core/areas/freshIds.ts';
import type { Role } from '@/lib/core/areas/people.ts';
import type { Turn } from '@/lib/core/areas/steps.ts';
import { bad, good, type Problem, type Result } from '@/lib/core/result.ts';
import type { Policy } from './policy.ts';
import type { WaitingChange, WaitingPlace } from './waitingChanges.ts';

export type ChangeTo<N extends AreaName> = Change<(typeof areas)[N]>;

/** How a change comes to be made. */
export interface How {
  /** `hand` unless said. */
  way?: Exclude<Way, 'arrived' | 'import'>;
  about?: Gesture['about'];
  /** Takes back, or does again, what was done before. */
  turn?: Turn;
  /** Changes of the show area that belong to the same gesture: judged, made and taken back with it. */
  along?: readonly ChangeTo<'show'>[];
  /** Asks what it would, and makes nothing: what takes long can be done between the answer and the change. */
  onlyAsks?: true;
  /** What the person has agreed to lose already, as `done` was told: only where something else is lost are they asked again. */
  agreed?: string;
  /** Called once it is made, or agreed to where it only asks: at once, or after a question was answered. */
  done?(agreed?: string): void;
  /** Called where it had to wait and is not made after all: it was declined (null), or refused. */
  not?(why: Problem | null): void;
}

/** Where changes go once they may. */
export interface Kept {
  role: Role;
  read(): Board;
  /** All of them as one, or none and a sentence why. */
  make<N extends AreaName>(area: N, changes: readonly ChangeTo<N>[], how: How): Result<true>;
}

/** The problem of a change that is not made yet: it waits for an answer, or for the policy. Its sentence is empty. */
export const WAITS = 'waits';
const waits = bad(WAITS, '');
const MISSING = bad(
  'missing',
  'Not changed: a part of this page is still missing. Try again once there is a network.',
);

/**
 * The one way for changes from this page: each is judged, made, refused with a sentence, or held until the person has answered.
 * What is made after an answer is what was asked about: where the board has changed meanwhile so that something else would be
 * lost, it is asked again.
 */
export class Gate {
  private asked: { question: Question; answer(): void; not(): void } | null = null;
  private readonly waiting: { go(): void; not(why: Problem): void; change: WaitingChange | null }[] = [];

  constructor(
    private readonly kept: Kept,
    private readonly policy: { here(): Policy | null; load(): Promise<Policy> },
    private readonly fresh: () => string,
    /** There is a question, or none any more, or something that waited was made or refused. */
    private readonly onTurn: (problem: string) => void,
    private readonly place: WaitingPlace | null = null,
  ) {}

  /** Makes what the page before was left with, once it can be judged; nothing of it twice. */
  resume(): void {
    const left = this.place?.read() ?? [];
    this.place?.write([]);
    for (const { area, changes, way } of left) this.change(area, changes as never, way ? { way } : {});
  }

  get question(): Question | null {
    return this.asked?.question ?? null;
  }

  change<N extends AreaName>(area: N, changes: readonly ChangeTo<N>[], how: How = {}): Result<true> {
    const steps = withFreshIds<(typeof areas)[N]>(changes, this.fresh);
    const agreed = how.agreed ?? '';
    const policy = this.policy.here();
    if (policy !== null && this.waiting.length === 0) return this.judged(policy, area, steps, how, agreed);
    this.waiting.push({
      go: () => this.tell(this.judged(this.policy.here()!, area, steps, how, agreed), how),
      not: (why) => how.not?.(why),
      // What goes on in the page that is left goes with it.
      change: how.turn || how.onlyAsks || how.along ? null : { area, changes: steps as never, way: how.way },
    });
    this.place?.write(this.waiting.flatMap(({ change }) => change ?? []));
    if (this.waiting.length === 1) void this.whenLoaded();
    return waits;
  }

  /** The person says yes to what was asked. */
  agree(): void {
    this.asked?.answer();
  }

  /** Nothing of what was asked about is changed. */
  decline(): void {
    const { asked } = this;
    this.asked = null;
    asked?.not();
    this.onTurn('');
  }

  /** @param agreed the losses that the person has said yes to */
  private judged<N extends AreaName>(
    policy: Policy,
    area: N,
    changes: readonly ChangeTo<N>[],
    how: How,
    agreed: string,
  ): Result<true> {
    const { role } = this.kept;
    const verdict = policy.judge(this.kept.read(), area, changes, {
      role,
      way: how.way ?? 'hand',
      ...(how.about && { about: how.about }),
      ...(how.along && { along: how.along }),
    });
    if (verdict.kind === 'refused') return { ok: false, problem: verdict.problem };
    if (verdict.kind === 'allowed') return this.make(area, changes, how, '');
    const losses = JSON.stringify(verdict.losses);
    if (losses === agreed) return this.make(area, verdict.changes, how, losses);
    if (this.asked !== null) return bad('asked', 'Please answer the question on this page first.');
    this.asked = {
      question: policy.questionOf(verdict.losses),
      answer: () => {
        this.asked = null;
        this.tell(this.judged(policy, area, changes, how, losses), how);
      },
      not: () => how.not?.(null),
    };
    this.onTurn('');
    return waits;
  }

  private make<N extends AreaName>(
    area: N,
    changes: readonly ChangeTo<N>[],
    how: How,
    agreed: string,
  ): Result<true> {
    const made = how.onlyAsks ? good<true>(true) : this.kept.make(area, changes, how);
    if (made.ok) how.done?.(agreed);
    return made;
  }

  /** Of a change whose caller has gone on: what refuses it is said on the page. */
  private tell(made: Result<true>, how: How): void {
    if (!made.ok && made.problem.code !== WAITS) how.not?.(made.problem);
    this.onTurn(made.ok ? '' : made.problem.sentence);
  }

  private async whenLoaded(): Promise<void> {
    try {
      await this.policy.load();
      this.place?.write([]);
      for (const { go } of this.waiting.splice(0)) go();
    } catch {
      for (const { not } of this.waiting.splice(0)) not(MISSING.problem);
      this.onTurn(MISSING.problem.sentence);
    }
  }
}
