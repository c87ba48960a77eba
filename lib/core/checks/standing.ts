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

/** Fixes that are tried for one finding. */
const TRIED = 6;

/** What a rule has reported, with the first of the fixes that it would offer, each made when it is asked for. */
export type Reported = Omit<Finding, 'fix'> & { fixes: () => Iterable<Fix> };

/** What a change does to what the checks find: ids that are no longer found, and those that are found besides or are worse. */
export interface Difference {
  gone: Set<string>;
  added: Map<string, Severity>;
}

/** What one rule says of a board, and on what of the dance that depends; nothing where it is not asked. */
interface Said {
  rule: Rule;
  isAsked: boolean;
  found: Reported[];
  /** How severe each of them is. */
  severities: ReadonlyMap<string, Severity>;
  saw: ReadonlySet<Looked>;
}

/** Which finding it is, and how severe: all that a change is judged by. */
type Told = Pick<Finding, 'id' | 'severity'>;

/** A change that is tried: which rules may say something else after it, and what each says before and after. */
interface Trial {
  mayTell(said: Said): boolean;
  before(said: Said): readonly Told[];
  after(said: Said): readonly Told[];
}

/**
 * What all rules say of a board. From there `after` says what would be found after a change, and asks only rules that looked at
 * what it changes; those about single moves only about the moves near it.
 */
export class Standing {
  private nearby: Nearby | null = null;
  /** Rules in the order in which they are asked of a fix. */
  private readonly order: Said[];

  private constructor(
    readonly board: Board,
    private readonly today: Day,
    private readonly score: FloorScore | null,
    private readonly heard: FeatureTable | null,
    private readonly sight: Sight,
    private readonly said: readonly Said[],
  ) {
    this.order = [...said];
  }

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
      if (!isAsked(rule, sight)) {
        said.push({ rule, isAsked: false, found: [], severities: new Map(), saw: new Set() });
        continue;
      }
      const own = rule.reads.includes('answer') ? ofAnswer : watched(sight);
      const found = reportsOf(rule, own.sight);
      const severities = new Map(found.map(({ id, severity }) => [id, severity]));
      said.push({ rule, isAsked: true, found, severities, saw: own.saw });
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

  /** What would be found besides and no longer after these changes. */
  after(changes: readonly PlanChange[]): Difference {
    const trial = this.trialOf(changes);
    const difference: Difference = { gone: new Set(), added: new Map() };
    for (const said of this.said) {
      if (!trial.mayTell(said)) continue;
      const after = trial.after(said);
      add(said, after, trial, difference.added);
      const found = new Set(after.map(({ id }) => id));
      for (const { id } of trial.before(said)) if (!found.has(id)) difference.gone.add(id);
    }
    return difference;
  }

  /**
   * What would be found besides after changes that end a finding; null where they do not end it, or where what they add is refused.
   * The finding's own rule is asked first, and then no more than it takes to know.
   * @param isRefused holds of anything more where it holds of this
   */
  mended(
    { id, rule }: Pick<Finding, 'id' | 'rule'>,
    changes: readonly PlanChange[],
    isRefused: (added: ReadonlyMap<string, Severity>) => boolean,
  ): ReadonlyMap<string, Severity> | null {
    const trial = this.trialOf(changes);
    const own = this.said.find((said) => said.rule.id === rule)!;
    const isIn = (told: readonly Told[]) => told.some((one) => one.id === id);
    if (!trial.mayTell(own) || isIn(trial.after(own)) || !isIn(trial.before(own))) return null;
    const added = new Map<string, Severity>();
    for (const said of this.order) {
      if (!trial.mayTell(said)) continue;
      // What is found no longer is nobody's concern here.
      add(said, trial.after(said), trial, added);
      if (!isRefused(added)) continue;
      this.askFirst(said);
      return null;
    }
    return added;
  }

  /** What has spoilt one fix often spoils the next. */
  private askFirst(said: Said): void {
    this.order.splice(this.order.indexOf(said), 1);
    this.order.unshift(said);
  }

  private trialOf(changes: readonly PlanChange[]): Trial {
    const parts = new Set(changes.map(partOf));
    return this.sight.danced && parts.has('placed') && changes.every((change) => this.isPlacing(change))
      ? this.placing(changes, parts)
      : this.changing(changes, parts);
  }

  private changing(changes: readonly PlanChange[], parts: ReadonlySet<string>): Trial {
    const sight = this.sightAfter(changes, parts);
    const told = [...parts];
    return {
      mayTell: ({ rule, isAsked: wasAsked, saw }) =>
        wasAsked
          ? told.some((part) => !isLooked(part) || saw.has(part) || (part !== 'walkOn' && saw.has('used')))
          : isAsked(rule, sight),
      before: ({ found }) => found,
      after: ({ rule }) => (isAsked(rule, sight) ? toldBy(rule, sight) : []),
    };
  }

  /** Whether it places a move, or puts on the couple's list a link that is placed with it. */
  private isPlacing(change: PlanChange): boolean {
    if (!('collection' in change)) return false;
    if (change.collection !== 'moves') return change.collection === 'placed';
    const { id, fields } = change;
    return fields?.link === true && !this.near.has(id) && !this.near.isMissed(id);
  }

  private get near(): Nearby {
    this.nearby ??= new Nearby(this.sight, this.sight.danced!);
    return this.nearby;
  }

  private placing(changes: readonly PlanChange[], parts: ReadonlySet<string>): Trial {
    const near = this.near.of(changes);
    const lists = parts.has('moves');
    let whole: Sight | null = null;
    return {
      mayTell: ({ saw }) =>
        saw.has('placed') || (near.uses !== null && saw.has('used')) || (lists && saw.has('moves')),
      before: ({ rule, found }) => (rule.local ? toldBy(rule, near.before(rule.local)) : found),
      after: ({ rule }) => {
        if (rule.local) return toldBy(rule, near.after(rule.local));
        whole ??= this.sightAfterPlacing(changes, near.uses ?? {});
        return toldBy(rule, whole);
      },
    };
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

/**
 * Adds what one rule finds besides, or finds worse. What it found of the whole board it does not find besides; what it did not may be said
 * wrongly, because further moves are missing, and then it was said before, too.
 */
function add(said: Said, after: readonly Told[], trial: Trial, to: Map<string, Severity>): void {
  const isWorse = (severity: Severity, old: Severity | undefined) =>
    old === undefined || ORDER[severity] < ORDER[old];
  const others = after.filter(({ id, severity }) => isWorse(severity, said.severities.get(id)));
  if (others.length === 0) return;
  const was = new Map(trial.before(said).map(({ id, severity }) => [id, severity]));
  for (const { id, severity } of others) if (isWorse(severity, was.get(id))) to.set(id, severity);
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
    *fixes() {
      let tried = 0;
      for (const fix of fixes?.() ?? []) {
        const undeclared = fix.changes.find((change) => !rule.fixes.includes(partOf(change)));
        if (undeclared) throw new Error(`rule ${rule.id} does not declare a fix of ${partOf(undeclared)}`);
        yield fix;
        if (++tried === TRIED) return;
      }
    },
  };
}

/** The register or collection that a change is of. */
const partOf = (change: PlanChange): string => ('register' in change ? change.register : change.collection);
