import type { Plan } from '../areas/plan.ts';
import { basicOf } from '../dance/basics.ts';
import { suitsMetre } from '../dance/counts.ts';
import { Joins } from '../dance/joins.ts';
import { isFigure } from '../dance/kinds.ts';
import { newEntry } from '../dance/newEntry.ts';
import { type LaidMove, lay, storedAt } from '../dance/place.ts';
import { standing } from '../dance/stance.ts';
import type { FloorSection } from '../edit/score.ts';
import type { Danced, Fix } from './finding.ts';
import { linkChanges } from './linking.ts';
import { suitsPace } from './pace.ts';
import { isFree } from './spots.ts';
import { quoted } from './words.ts';

/** Sections that begin between the first step and the ending, and that no move marks. */
export function unmarked({ score, whole, walk, ending, looked }: Danced): FloorSection[] {
  if (!walk) return [];
  const marked = new Set<number>(whole.map(({ at }) => at));
  const until = ending.ok ? ending.value.led.count : score.counts.length;
  return score.sections.filter(
    ({ counts, first }) =>
      counts > 0 &&
      first >= looked.from &&
      first <= looked.to &&
      first > walk.firstStep &&
      first < until &&
      !marked.has(first),
  );
}

/**
 * A move on the section's first count: the one that sections of the same kind have, else the couple's others. Links come with it where
 * it does not follow what is danced before, or what comes next does not follow it.
 */
export function* markFixes(
  plan: Plan,
  danced: Danced,
  { first: at, kind }: FloorSection,
  where = 'there',
): Generator<Fix> {
  const { score, grid } = danced;
  const alike = score.sections.filter((s) => s.counts > 0 && s.kind === kind).map((s) => s.first);
  const usual = danced.laid.find((laid) => alike.includes(laid.at))?.move.id;
  const moves = plan.moves
    .filter((move) => isFigure(move) && suitsMetre(move, grid) && suitsPace(move, danced))
    .sort((a, b) => Number(b.id === usual) - Number(a.id === usual) || (a.id < b.id ? -1 : 1));
  const joins = new Joins({ basic: basicOf(plan), grid });
  for (const move of moves) {
    const laid = lay(move, at, grid, { id: newEntry(at), part: 'placed' });
    if (!isFree(danced, laid)) continue;
    const chains = chainsAround(laid, danced, joins);
    const links = chains.flatMap((chain) => chain.links);
    const joined = [...new Set(links.map(({ name }) => quoted(name)))].join(' and ');
    yield {
      words: `Put ${quoted(move.name)} ${where}${joined ? `, joined by ${joined}` : ''}`,
      changes: [
        ...linkChanges(plan, danced, chains),
        { collection: 'placed', id: laid.id, fields: { move: move.id, at: storedAt(score, at), times: 1 } },
      ],
    };
  }
}

/** The links that a move needs which comes into the dance: before itself, and before what is danced next. */
function chainsAround(laid: LaidMove, { whole, through, walk }: Danced, joins: Joins) {
  const i = whole.findLastIndex((one) => one.at < laid.at);
  const [before, next] = [whole[i], whole[i + 1]];
  const from = before ? joins.afterLaid(through.stances[i]!, before) : standing;
  const into = joins.of(from, laid.at - (before?.end ?? walk?.firstStep ?? 0), laid.move);
  const outOf = next && joins.of(into.after, next.at - laid.end, next.move);
  return [
    { before: laid.at as number, counts: into.counts, links: into.links },
    ...(next && outOf ? [{ before: next.at as number, counts: outOf.counts, links: outOf.links }] : []),
  ];
}
