import { dancedBar } from './counts.ts';
import { type Joined, Joins, leftOver } from './joins.ts';
import type { Points } from './manners.ts';
import { isNewEntry, newEntry } from './newEntry.ts';
import { type LaidMove, lay } from './place.ts';
import { ALONE, levelOf, type Readiness } from './practice.ts';
import { type Stance, standing } from './stance.ts';
import type { Stage } from './stations.ts';

/** Codes of what a label got: nothing yet, the basic, or the first of the moves. */
const NOTHING = 0;
const BASIC = 1;

/** What of an option does not depend on the way to it. */
interface OptionFacts {
  /** Of the move and its times, in what a label got. */
  code: number;
  /** Of the figure in `used`; 0 for what is none of them. */
  bit: number;
  isNew: boolean;
  toLearn: boolean;
  worth: number;
}

/** All that a choice is judged by, besides the way that led to it. */
export interface Setting {
  stage: Stage;
  points: Points;
  /** Moves that may still be learned. */
  mostToLearn: number;
  joins: Joins;
  facts: ReadonlyMap<LaidMove, OptionFacts>;
  /** The place of each station's label in `given`, -1 for none; those that come again after a station stand from `coming` on. */
  labels: readonly number[];
  coming: readonly number[];
  /** After each station: figures that may still be danced, and for each label what it may still bring, by what it got. */
  ahead: readonly Ahead[];
  begin: Way;
}

interface Ahead {
  bits: number;
  /** The label of the strongest chorus, and the codes of the showpiece there; null once it is past. */
  shown: { label: number; codes: readonly number[] } | null;
  labels: readonly { nothing: number; move: number }[];
}

export interface Choice {
  laid: LaidMove | null;
  /** Links just before it. */
  links: LaidMove[];
}

/** A way through the stations so far: what the future depends on makes its key, the rest is its history. */
export interface Way {
  worth: number;
  last: LaidMove | null;
  stance: Stance;
  /** Bits of the figures that are danced, those that a person placed among them. */
  used: number;
  /** How many different moves are still to learn. */
  learning: number;
  /** A character for each label: the code of what it got first. */
  given: string;
  before: Way | null;
  laid: LaidMove | null;
  joined: Joined | null;
}

/** Sets a stage up for one manner of choosing. */
export function settingFor(
  stage: Stage,
  points: Points,
  readiness: readonly Readiness[],
  most: number,
  showpiece: { move: string; at: number } | null,
  joins = new Joins(stage),
): Setting {
  const names = stage.stations.map(({ label }) => label);
  // Those that come again soonest last stand last: what still matters after a station is the end of `given`.
  const order = [...new Set(names.filter(Boolean))].sort(
    (a, b) => names.lastIndexOf(a) - names.lastIndexOf(b),
  );
  const codes = new Map<string, number>();
  const facts = new Map<LaidMove, OptionFacts>();
  for (const option of stage.stations.flatMap(({ options }) => options)) {
    if (!option) continue;
    const { move, times, id, at } = option;
    const name = `${move.id} x${times}`;
    const code = codes.get(name) ?? BASIC + 1 + codes.size;
    codes.set(name, code);
    const index = stage.figures.findIndex((figure) => figure.id === move.id);
    const toLearn = levelOf(readiness, move.id) < ALONE;
    const isShown = showpiece !== null && showpiece.move === move.id && showpiece.at === at;
    const worth =
      points.eachDifficulty * (move.difficulty - 1) +
      (toLearn ? points.notYetAlone : 0) +
      (isShown ? points.showpiece : 0);
    facts.set(option, { code, bit: index < 0 ? 0 : 1 << index, isNew: isNewEntry(id), toLearn, worth });
  }
  return {
    ...{ stage, points, joins, facts, mostToLearn: most },
    labels: names.map((label) => order.indexOf(label)),
    coming: names.map((_, i) => order.filter((label) => names.lastIndexOf(label) <= i).length),
    ahead: names.map((_, i) => aheadOf(stage, points, facts, order, i, showpiece)),
    begin: firstWay(stage, readiness, order.length),
  };
}

function aheadOf(
  { stations }: Stage,
  points: Points,
  facts: Setting['facts'],
  order: readonly string[],
  i: number,
  showpiece: { move: string; at: number } | null,
): Ahead {
  const rest = stations.slice(i + 1);
  const bits = rest
    .flatMap(({ options }) => options)
    .reduce((set, one) => set | (one ? facts.get(one)!.bit : 0), 0);
  const labels = order.map((label) => {
    const these = rest.filter((station) => station.label === label);
    const marks = these.reduce((sum, { opens }) => sum + (opens ? points.marked : points.phraseMarked), 0);
    const again = these.map(({ opens }) => (opens ? points.sameAgain : points.sameAgain / 2));
    const all = again.reduce((sum, one) => sum + one, 0);
    return { nothing: Math.max(0, marks + all - (again[0] ?? 0)), move: Math.max(0, marks + all) };
  });
  const there = rest.find(({ at }) => at === showpiece?.at);
  const codes = (there?.options ?? []).flatMap((one) =>
    one && one.move.id === showpiece?.move ? [facts.get(one)!.code] : [],
  );
  return {
    bits,
    labels,
    shown: there && codes.length > 0 ? { label: order.indexOf(there.label), codes } : null,
  };
}

/**
 * How far a way may still come, at most: its worth, with what the places ahead may bring it. Of too many ways those that may come
 * furthest are followed, as in A* (Hart, Nilsson and Raphael 1968).
 */
export function reachOf(
  { worth, used, given }: Way,
  index: number,
  { ahead, coming, points }: Setting,
): number {
  const { bits, labels, shown } = ahead[index]!;
  let reach = worth;
  if (shown) {
    const got = given.charCodeAt(shown.label);
    if (got === NOTHING || shown.codes.includes(got)) reach += points.showpiece;
  }
  for (let open = bits & ~used; open !== 0; open &= open - 1) reach += points.wanted;
  for (let label = coming[index]!; label < labels.length; label++) {
    const code = given.charCodeAt(label);
    if (code === NOTHING) reach += labels[label]!.nothing;
    else if (code !== BASIC) reach += labels[label]!.move;
  }
  return reach;
}

/** Where every way begins: what a person placed, and the ending, is danced in any case. */
function firstWay(stage: Stage, readiness: readonly Readiness[], labels: number): Way {
  const placed = stage.stations.flatMap(({ options }) =>
    options.flatMap((one) => (one && !isNewEntry(one.id) ? [one] : [])),
  );
  const sure = [...placed, ...stage.ending].map(({ move }) => move);
  const used = stage.figures.reduce(
    (set, { id }, i) => (sure.some((move) => move.id === id) ? set | (1 << i) : set),
    0,
  );
  const toLearn = sure.filter((m) => !m.basic && !m.link && levelOf(readiness, m.id) < ALONE);
  return {
    ...{ worth: 0, last: null, stance: standing, used, learning: new Set(toLearn.map(({ id }) => id)).size },
    ...{ given: String.fromCharCode(NOTHING).repeat(labels), before: null, laid: null, joined: null },
  };
}

/** One station further; null where the option does not fit after what came before. */
export function stepOn(way: Way, option: LaidMove | null, index: number, setting: Setting): Way | null {
  const { stage, points } = setting;
  const { opens } = stage.stations[index]!;
  const label = setting.labels[index]!;
  const about = option && setting.facts.get(option)!;
  const code = about ? about.code : BASIC;
  const before = label < 0 ? NOTHING : way.given.charCodeAt(label);
  const given =
    label >= 0 && before === NOTHING
      ? way.given.slice(0, label) + String.fromCharCode(code) + way.given.slice(label + 1)
      : way.given;
  const sameness = before === NOTHING ? 0 : before === code ? points.sameAgain : points.anotherMove;
  const again = opens ? sameness : sameness / 2;
  if (!option || !about) {
    // The basic once more where it was before is no merit of its own.
    const worth = way.worth + (before === BASIC ? 0 : again);
    return { ...way, worth, given, before: way, laid: null, joined: null };
  }
  const from = way.last?.end ?? stage.first;
  // A person's moves are taken as they are; a new one must have room to be led, and leave the next one its own.
  const meetsNew = about.isNew || (way.last !== null && isNewEntry(way.last.id));
  if (meetsNew && (option.at < from || (!way.last?.move.link && option.preparationFrom < from))) return null;
  const isFirst = about.bit !== 0 && (way.used & about.bit) === 0;
  const learning = way.learning + (isFirst && about.toLearn ? 1 : 0);
  if (about.isNew && learning > setting.mostToLearn && learning > way.learning) return null;
  const joined = setting.joins.of(way.stance, Math.max(0, option.at - from), option.move);
  const marks = about.isNew && label >= 0 ? (opens ? points.marked : points.phraseMarked) : 0;
  const isTwice = way.last?.move.id === option.move.id && before !== code;
  return {
    worth:
      way.worth +
      (again + marks + about.worth) +
      ((isFirst ? points.wanted : 0) + (isTwice ? points.sameTwiceRunning : 0)) +
      joinWorth(joined, option.at - from, setting),
    last: option,
    stance: option.times === 1 ? joined.after : setting.joins.afterLaid(joined.stance, option),
    ...{ used: way.used | about.bit, learning, given, before: way, laid: option, joined },
  };
}

/** What lies between two moves, in points. */
function joinWorth(
  { links, basic, holdChanges, broken }: Joined,
  gap: number,
  { stage, points }: Setting,
): number {
  const plain = Math.floor(gap / (8 * dancedBar(stage.grid))) - 1;
  return (
    points.link * links.length +
    points.holdChange * holdChanges +
    (broken ? points.broken : 0) +
    points.leftOver * leftOver(links.length > 0 ? basic : gap, stage) +
    (plain > 0 ? points.plain * plain : 0)
  );
}

/** The whole dance: what leads into the ending, or what is left over before the music ends. */
export function finished(way: Way, setting: Setting): Way {
  const { stage, points } = setting;
  const from = way.last?.end ?? stage.first;
  const [opening] = stage.ending;
  if (!opening) return { ...way, worth: way.worth + points.leftOver * leftOver(stage.last - from, stage) };
  const joined = setting.joins.of(way.stance, Math.max(0, opening.at - from), opening.move);
  const worth = way.worth + joinWorth(joined, opening.at - from, setting);
  return { ...way, worth, before: way, last: opening, laid: null, joined };
}

/** What the rest of a way depends on: two that agree in it need only the better one. */
export const keyOf = (
  { last, stance, used, learning, given }: Way,
  index: number,
  { coming }: Setting,
): string =>
  `${last ? last.at * 32 + last.times : -1} ${last?.move.id} ${stance.feet} ${stance.hold} ${stance.position} ${used} ${learning} ${given.slice(coming[index])}`;

/** What was chosen at each station, in order, and last what leads into the ending. */
export function choicesOf(way: Way, { stage }: Setting): Choice[] {
  const choices: Choice[] = [];
  for (let here: Way | null = way; here?.before; here = here.before) {
    const next = here.laid ?? here.last;
    const links = here.joined && next ? here.joined.links : [];
    let at = next ? next.at - (here.joined?.counts ?? 0) : 0;
    choices.unshift({
      laid: here.laid,
      links: links.map((link) => {
        const laid = lay(link, at, stage.grid, { id: newEntry(`link-${at}`), part: 'placed' });
        at = laid.end;
        return laid;
      }),
    });
  }
  return choices;
}
