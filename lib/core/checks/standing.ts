import type { Board } from '../areas/board.ts';
import { changePlan, type PlanChange } from '../areas/change.ts';
import type { Plan } from '../areas/plan.ts';
import { boardScore, scoredFields, tryScore } from '../areas/score.ts';
import type { Day } from '../calendar.ts';
import type { FloorScore } from '../edit/score.ts';
import type { FeatureTable } from '../song/features.ts';
import type { Draft, Finding, Fix, Rule, Severity, Sight } from './finding.ts';
import { heardOf } from './heard.ts';
import { Nearby } from './near.ts';
import { rules } from './rules.generated.ts';
import { dancedOf, type Known, type Looked, sightOf, watched } from './sight.ts';
import { isInTime } from './time.ts';

/** The most pressing first. */
export const ORDER: Record<Severity, number> = { blocks: 0, warns: 1, hints: 2 };

/** What a rule has reported, with the fixes that it would offer. */
export type Reported = Omit<Finding, 'fix'> & { fixes: () => Fix[] };

/** What a change does to what the checks find: ids that are no longer found, and those that are found besides or are worse. */
export interface Difference {
  gone: Set<string>;
  added: Map<string, Severity>;
}

/** What one rule says of a board, and on what of the dance that depends. */
interface Said {
  rule: Rule;
  found: Reported[];
  saw: ReadonlySet<Looked>;
}

/** Which finding it is, and how severe: all that a change is judged by. */
type Told = Pick<Finding, 'id' | 'severity'>;

/** What one rule says before and after a change. */
interface Step {
  rule: Rule;
  before: () => readonly Told[];
  after: () => readonly Told[];
}

/**
 * What all rules say of a board. From there `after` says what would be found after a change, and asks only rules that looked at
 * what it changes; those about single moves only about the moves near it.
 */
export class Standing {
  private nearby: Nearby | null = null;

  private constructor(
    readonly board: Board,
    private readonly today: Day,
    private readonly score: FloorScore | null,
    private readonly heard: FeatureTable | null,
    private readonly sight: Sight,
    private readonly said: readonly Said[],
  ) {}

  /** A rule a step, for whoever has other things to do meanwhile. */
  static *inSteps(board: Board, today: Day): Generator<void, Standing> {
    const score = boardScore(board.plan);
    const heard = heardOf(board.plan);
    const sight = sightOf(board, score, heard, today);
    // What the DJ has said is worked out once for all rules that ask, whoever asks first: they depend on the same.
    const ofAnswer = watched(sight);
    const said: Said[] = [];
    for (const rule of rules) {
      yield;
      if (!isAsked(rule, sight)) continue;
      const own = rule.reads.includes('answer') ? ofAnswer : watched(sight);
      said.push({ rule, found: reportsOf(rule, own.sight), saw: own.saw });
      // Its fixes may look at more, later.
      if (own !== ofAnswer) own.stop();
    }
    ofAnswer.stop();
    return new Standing(board, today, score, heard, sight, said);
  }

  static of(board: Board, today: Day): Standing {
    const steps = Standing.inSteps(board, today);
    for (;;) {
      const { done, value } = steps.next();
      if (done) return value;
    }
  }

  /** In the order of the song; what has no place comes first. */
  get found(): Reported[] {
    const when = (finding: Reported) => finding.place.floorTime ?? -1;
    return this.said
      .flatMap(({ found }) => found)
      .sort((a, b) => when(a) - when(b) || ORDER[a.severity] - ORDER[b.severity] || (a.id < b.id ? -1 : 1));
  }

  /**
   * What would be found besides and no longer after these changes.
   * @param wanted a finding that they should end: its rule is asked first, and no other where it is still found
   * @param enough looks at what is known so far: once it holds, no more is asked
   */
  after(
    changes: readonly PlanChange[],
    wanted?: Pick<Finding, 'id' | 'rule'>,
    enough: (difference: Difference) => boolean = () => false,
  ): Difference {
    const parts = new Set(changes.map(partOf));
    const steps =
      this.sight.danced && changes.every((change) => this.isPlacing(change)) && parts.has('placed')
        ? this.afterPlacing(changes, parts)
        : this.afterAll(changes, parts);
    const difference: Difference = { gone: new Set(), added: new Map() };
    if (wanted) {
      const own = steps.findIndex(({ rule }) => rule.id === wanted.rule);
      const after = steps[own]?.after();
      if (!after || after.some(({ id }) => id === wanted.id)) return difference;
      const [step] = steps.splice(own, 1);
      steps.unshift({ ...step!, after: () => after });
    }
    for (const { before, after } of steps) {
      compare(before(), after(), difference);
      if (enough(difference)) break;
    }
    return difference;
  }

  private afterAll(changes: readonly PlanChange[], parts: ReadonlySet<string>): Step[] {
    const sight = this.sightAfter(changes, parts);
    const mayTell = ({ saw }: Said) =>
      [...parts].some((part) => !isLooked(part) || saw.has(part) || (part !== 'walkOn' && saw.has('used')));
    const all = new Map(this.said.map((said) => [said.rule, said]));
    return rules.flatMap((rule): Step[] => {
      const said = all.get(rule);
      const isAskedAfter = isAsked(rule, sight);
      if (said ? !mayTell(said) : !isAskedAfter) return [];
      return [
        { rule, before: () => said?.found ?? [], after: () => (isAskedAfter ? toldBy(rule, sight) : []) },
      ];
    });
  }

  /** Whether it places a move, or puts on the couple's list a link that is placed with it. */
  private isPlacing(change: PlanChange): boolean {
    if (!('collection' in change)) return false;
    if (change.collection !== 'moves') return change.collection === 'placed';
    const { id, fields } = change;
    return (
      fields?.link === true &&
      !this.board.plan.moves.some((move) => move.id === id) &&
      !this.near.isMissed(id)
    );
  }

  private get near(): Nearby {
    this.nearby ??= new Nearby(this.sight, this.sight.danced!);
    return this.nearby;
  }

  private afterPlacing(changes: readonly PlanChange[], parts: ReadonlySet<string>): Step[] {
    const near = this.near.of(changes);
    let whole: Sight | null = null;
    return this.said
      .filter(
        ({ saw }) =>
          saw.has('placed') ||
          (saw.has('used') && near.uses !== null) ||
          (saw.has('moves') && parts.has('moves')),
      )
      .map(({ rule, found }): Step => {
        if (rule.local)
          return {
            rule,
            before: () => toldBy(rule, near.before),
            after: () => toldBy(rule, near.after),
          };
        return {
          rule,
          before: () => found,
          after: () => {
            whole ??= this.sightAfterPlacing(changes, near.uses ?? {});
            return toldBy(rule, whole);
          },
        };
      });
  }

  /** The whole dance after a change of what is placed, laid out only where a rule looks at more than is known. */
  private sightAfterPlacing(changes: readonly PlanChange[], known: Known): Sight {
    const { board, score, heard, today } = this;
    const after = <P extends 'placed' | 'moves'>(part: P) => {
      let changed: Plan[P] | undefined;
      return {
        enumerable: true,
        get(): Plan[P] {
          changed ??= changePlan(
            board.plan,
            changes.filter((change) => partOf(change) === part),
          )[part];
          return changed;
        },
      };
    };
    const plan: Plan = Object.defineProperties(
      { ...board.plan },
      { placed: after('placed'), moves: after('moves') },
    );
    return { board: { ...board, plan }, danced: dancedOf(plan, score, heard, known), today };
  }

  private sightAfter(changes: readonly PlanChange[], parts: ReadonlySet<string>): Sight {
    const plan = changePlan(this.board.plan, changes);
    const remade = scoredFields.some((field) => parts.has(field));
    return sightOf(
      { ...this.board, plan },
      remade ? tryScore(plan) : this.score,
      parts.has('features') ? heardOf(plan) : this.heard,
      this.today,
    );
  }
}

const isLooked = (part: string): part is Looked =>
  part === 'placed' || part === 'ending' || part === 'walkOn';

/** Whether a rule is run for this reader, on this day. */
const isAsked = (rule: Rule, { board, today }: Sight): boolean =>
  rule.reads.every((area) => board[area] !== null) && isInTime(rule, board, today);

const reportsOf = (rule: Rule, sight: Sight): Reported[] =>
  rule.run(sight).map((draft) => asReported(rule, draft));

const toldBy = (rule: Rule, sight: Sight): Told[] => rule.run(sight).map((draft) => asTold(rule, draft));

/** Adds to a difference what one rule finds otherwise. */
function compare(before: readonly Told[], after: readonly Told[], to: Difference): void {
  if (before.length === 0 && after.length === 0) return;
  const was = new Map(before.map(({ id, severity }) => [id, severity]));
  for (const { id, severity } of after) {
    const old = was.get(id);
    was.delete(id);
    if (old === undefined || ORDER[severity] < ORDER[old]) to.added.set(id, severity);
  }
  for (const id of was.keys()) to.gone.add(id);
}

function asTold(rule: Rule, { about, severity = rule.severity }: Draft): Told {
  if (ORDER[severity] < ORDER[rule.severity]) throw new Error(`rule ${rule.id} does not declare ${severity}`);
  return { id: about ? `${rule.id}:${about}` : rule.id, severity };
}

function asReported(rule: Rule, draft: Draft): Reported {
  const { place, figures, sentence, fixes } = draft;
  return {
    ...asTold(rule, draft),
    rule: rule.id,
    place,
    figures,
    sentence,
    fixes: () => {
      const wanted = fixes?.() ?? [];
      const undeclared = wanted
        .flatMap(({ changes }) => changes)
        .find((change) => !rule.fixes.includes(partOf(change)));
      if (undeclared) throw new Error(`rule ${rule.id} does not declare a fix of ${partOf(undeclared)}`);
      return wanted;
    },
  };
}

/** The register or collection that a change is of. */
const partOf = (change: PlanChange): string => ('register' in change ? change.register : change.collection);
