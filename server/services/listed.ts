import { storedRegisters } from '../../lib/board/registers.ts';
import { areas, type Board } from '../../lib/core/areas/board.ts';
import { isoDate } from '../../lib/core/areas/people.ts';
import type { Day } from '../../lib/core/calendar.ts';
import { z } from '../../lib/core/zod.ts';
import type { AreaTable, StoredBoard } from '../../lib/store/store.ts';

/** What the studio's list is sorted and searched by: kept with each board, so that a list of thousands opens none of them. */
const listed = z.object({
  one: z.string(),
  other: z.string(),
  date: z.nullable(isoDate),
  zone: z.nullable(z.string()),
  /** The heads of plan and show that it was read at. */
  at: z.string(),
});
export type Listed = z.infer<typeof listed>;

/** Goes up when it is read in another way than before: what was noted until then is read anew. */
const FORMAT = 1;
export const NOT_READ: Listed = { one: '', other: '', date: null, zone: null, at: '' };

const atOf = (plan: number, show: number): string => `${FORMAT} ${plan} ${show}`;

export const listedOf = ({ plan, show }: Board, heads: { plan: number; show: number }): Listed => ({
  one: plan.couple?.one.name ?? '',
  other: plan.couple?.other.name ?? '',
  date: plan.date,
  zone: show?.zone ?? null,
  at: atOf(heads.plan, heads.show),
});

/** What was noted of the board, and whether it still holds. */
export function notedOf({ heads, listed: text }: StoredBoard): { listed: Listed | null; holds: boolean } {
  const parsed = text === null ? null : (listed.safeParse(JSON.parse(text)).data ?? null);
  return { listed: parsed, holds: parsed?.at === atOf(heads.plan ?? 0, heads.show ?? 0) };
}

/** As the store has it now. Throws where it cannot be read. */
export async function readListed(table: Pick<AreaTable, 'load'>, id: string): Promise<Listed> {
  const [plan, show] = await Promise.all([table.load(id, 'plan'), table.load(id, 'show')]);
  const { couple, date } = storedRegisters(areas.plan, plan.updates, ['couple', 'date']);
  const { zone } = storedRegisters(areas.show, show.updates, ['zone']);
  return {
    one: couple?.one.name ?? '',
    other: couple?.other.name ?? '',
    date,
    zone,
    at: atOf(plan.head, show.head),
  };
}

/** With the day that it is where the party is. */
export type Dated = Listed & { id: string; today: Day };

const byName = new Intl.Collator().compare;

/** In the order in which they need the instructor: those to come, the nearest first; without a date; danced, the latest first. */
export function inOrder(boards: readonly Dated[]): Dated[] {
  const group = ({ date, today }: Dated) => (date === null ? 1 : date >= today ? 0 : 2);
  return [...boards].sort((a, b) => {
    const groups = group(a) - group(b);
    if (groups !== 0) return groups;
    const [first, second] = group(a) === 2 ? [b, a] : [a, b];
    return (
      compare(first.date ?? '', second.date ?? '') ||
      byName(`${a.one} ${a.other}`, `${b.one} ${b.other}`) ||
      compare(a.id, b.id)
    );
  });
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Without accents and capitals, so that "zoe" finds Zoë. */
const plain = (words: string): string =>
  words
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase();

/** Whether each of these words stands in one of the two names. */
export function isNamed({ one, other }: Listed, words: string): boolean {
  const names = plain(`${one} ${other}`);
  return plain(words)
    .split(/\s+/)
    .every((word) => names.includes(word));
}
