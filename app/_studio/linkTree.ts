import type { Role } from '@/lib/core/areas/people.ts';
import type { LinkSummary } from '@/lib/protocol/api.ts';
import { roleWords } from '../_ui/roles.ts';
import { instantDay } from './dates.ts';

/** A link, and those that were made with it. */
export interface Branch {
  link: LinkSummary;
  made: Branch[];
}

/** In the order in which they were made; one whose maker is not among them stands at the top. */
export function linkTree(links: readonly LinkSummary[]): Branch[] {
  const branches = new Map(links.map((link) => [link.id, { link, made: [] as Branch[] }]));
  const tops: Branch[] = [];
  for (const branch of branches.values()) {
    const maker = branch.link.parent === null ? undefined : branches.get(branch.link.parent);
    (maker?.made ?? tops).push(branch);
  }
  return tops;
}

/** How many were made with it, however far down. */
export const countMade = ({ made }: Branch): number =>
  made.reduce((sum, branch) => sum + 1 + countMade(branch), 0);

/** Whose doing it was: `by the couple’s link of 3 May 2027`. Who looks came by the link `own`. */
export function makerWords(
  { parent }: LinkSummary,
  links: readonly LinkSummary[],
  { role, own }: { role: Role; own: string },
): string {
  if (parent === null) return role === 'instructor' ? '' : 'by the instructor';
  if (parent === own) return 'with your link';
  const maker = links.find(({ id }) => id === parent);
  return maker
    ? `by the ${roleWords[maker.role]}’s link of ${instantDay(maker.madeAt)}`
    : 'with another link';
}

export const openedWords = (browsers: number): string =>
  browsers === 0
    ? 'not opened yet'
    : browsers === 1
      ? 'opened on one device'
      : `opened on ${browsers} devices`;
