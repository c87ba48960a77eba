import { cookies } from 'next/headers';
import { services } from '@/lib/access/services.ts';
import { tokenAmong, ZONE } from '@/lib/access/session.ts';
import { role } from '@/lib/core/areas/people.ts';
import { type BoardsQuery, boardsQuery } from '@/lib/protocol/api.ts';
import { PAGE } from '@/lib/protocol/listPage.ts';
import { Door } from '../_studio/door.tsx';
import { boardsOf } from '../_studio/heldBoards.ts';
import type { TakenBack } from '../_studio/leftBehind.tsx';
import type { ListPage } from '../_studio/listPage.ts';
import { SetUp } from '../_studio/setUp.tsx';
import { Studio } from '../_studio/studio.tsx';

type Asked = string | string[] | undefined;

interface Props {
  searchParams: Promise<Record<string, Asked>>;
}

/** First run, the door, or the studio: whatever this browser may see. */
export default async function FrontPage({ searchParams }: Props) {
  const { instructor, boards } = services();
  if (!(await instructor.exists())) return <SetUp />;
  const kept = await cookies();
  const token = tokenAmong((name) => kept.get(name)?.value);
  const name = await instructor.of(token);
  const { why, of, as, page, named } = await searchParams;
  if (name.ok) {
    const zone = kept.get(ZONE)?.value ?? null;
    const list = await pageOf((wish) => boards.list(zone, wish), page, named);
    return <Studio name={name.value} list={list} zone={zone} />;
  }
  return (
    <Door
      held={await boardsOf(token)}
      why={typeof why === 'string' ? why : null}
      takenBack={await takenBackFrom(token, of, as)}
    />
  );
}

/** The page that the address asks for; the last one where there are not so many, as after a board was deleted. */
async function pageOf(
  list: (wish: BoardsQuery) => Promise<Pick<ListPage, 'boards' | 'total'>>,
  page: Asked,
  named: Asked,
): Promise<ListPage> {
  const asked = boardsQuery.safeParse({ from: (Number(page ?? 1) - 1) * PAGE, count: PAGE, named });
  const wish = asked.data ?? { from: 0, count: PAGE, named: '' };
  const found = await list(wish);
  const last = Math.max(0, Math.ceil(found.total / PAGE) - 1) * PAGE;
  if (wish.from <= last) return { ...wish, ...found };
  return { ...wish, from: last, ...(await list({ ...wish, from: last })) };
}

/** The board that the address names, if it or this browser's link to it is no more: an address alone removes nothing. */
async function takenBackFrom(token: string | null, of: Asked, as: Asked): Promise<TakenBack | null> {
  const asked = role.safeParse(as);
  if (typeof of !== 'string' || !asked.success) return null;
  const { grants } = services();
  const grant = await grants.of(token, of, asked.data);
  if (grant.ok || (grant.problem.code !== 'revoked' && grant.problem.code !== 'not found')) return null;
  const live = (await grants.all(token)).filter(({ board }) => board === of);
  return { board: of, live: live.map(({ membership }) => membership) };
}
