import type { Plan } from '../../areas/plan.ts';
import { basicOf } from '../../dance/basics.ts';
import type { Break } from '../../dance/dancedThrough.ts';
import { type Mending, mendingOf } from '../../dance/mending.ts';
import { beginOf, freeFoot } from '../../dance/stance.ts';
import type { Danced, Fix, Rule } from '../finding.ts';
import { linkChanges } from '../linking.ts';
import { shiftFixes, swapFixes } from '../spots.ts';
import { standWords } from '../through.ts';
import { capital, nameOf, partners, placeOfCount, quoted } from '../words.ts';

export const rule: Rule = {
  id: 'cannot-be-danced',
  about: 'moves',
  severity: 'warns',
  reads: ['plan'],
  local: 'beside',
  what: 'A move, or the basic, begins with a foot that is not free, or in a hold or place in which the couple are not.',
  why: 'Somebody has to change weight or find the other’s hands in no time.',
  todo: 'Put the short link before it that makes it fit, or another move.',
  source: 'the moves themselves, danced one after another with the basic between them',
  fixes: ['placed', 'moves'],
  run({ board, danced }) {
    if (!danced) return [];
    const { plan } = board;
    return danced.through.breaks.map((broken) => {
      const mending = () => mendingOf(broken, basicOf(plan), danced.grid);
      const { next, of, at } = broken;
      return {
        about: of === next.move ? next.id : `${next.id}-basic`,
        place: placeOfCount(danced.score, at),
        get figures() {
          const names = mending()?.links.map(({ name }) => name);
          return { count: at, lacks: broken.lacks.join(', '), link: names?.join(', ') ?? 'none' };
        },
        get sentence() {
          return [why(plan, broken), mends(mending(), broken)].filter(Boolean).join(' ');
        },
        fixes: () => fixesOf(plan, danced, broken, mending()),
      };
    });
  },
};

function why(plan: Plan, { lacks, of, next, before, from, gap }: Break): string {
  const last =
    before === null
      ? 'Before it'
      : gap > 0 && of === next.move
        ? 'After the basic'
        : `After ${nameOf(before)}`;
  const name = of === next.move ? quoted(of.name) : 'the basic';
  if (lacks.includes('feet')) {
    const begins = beginOf(of);
    const names = partners(plan);
    // Where the lead's foot is right, it is the follow's that is not.
    const who = freeFoot(from, 'lead') === freeFoot(begins, 'lead') ? 'follow' : 'lead';
    return `${last}, ${names[who]}’s ${freeFoot(from, who)} foot is free; ${name} begins with the ${freeFoot(begins, who)}.`;
  }
  const begins = beginOf(of);
  return `${last} they are ${standWords(from, begins)}, and ${name} begins ${standWords(begins, from)}.`;
}

function mends(mending: Mending | null, { next, gap }: Break): string {
  if (!mending || mending.links.length === 0) return '';
  const names = mending.links.map(({ name }) => quoted(name)).join(' and ');
  return mending.fits
    ? `${capital(names)} just before ${nameOf(next)} makes it fit.`
    : `${capital(names)} between them would make it fit${gap > 0 ? ', with more room' : ''}.`;
}

function* fixesOf(
  plan: Plan,
  danced: Danced,
  { next, lacks, before }: Break,
  mending: Mending | null,
): Generator<Fix> {
  if (mending?.fits) {
    const { links, counts } = mending;
    const words = `Put ${links.map(({ name }) => quoted(name)).join(' and ')} before it`;
    yield { words, changes: linkChanges(plan, danced, [{ before: next.at, counts, links }]) };
  }
  const swap = next.part === 'placed' ? next : before?.part === 'placed' ? before : null;
  if (swap) yield* swapFixes(plan, danced, swap, () => true);
  if (next.part === 'placed' && lacks.includes('feet')) yield* shiftFixes(plan, danced, next);
}
