import { cookies } from 'next/headers';
import { redirect } from 'next/navigation';
import type { Me } from '@/app/_client/boardState.ts';
import { services } from '@/lib/access/services.ts';
import { tokenAmong } from '@/lib/access/session.ts';
import { role } from '@/lib/core/areas/people.ts';

export interface BoardPageProps {
  params: Promise<{ board: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Who asks for this page of the board; leads to the front page when this browser holds no such grant. */
export async function openPage({ params, searchParams }: BoardPageProps): Promise<Me> {
  const { board } = await params;
  const asked = role.safeParse((await searchParams).as);
  if (!asked.success) redirect('/?why=role');
  const kept = await cookies();
  const token = tokenAmong((name) => kept.get(name)?.value);
  const grant = await services().grants.of(token, board, asked.data);
  if (!grant.ok) {
    const { code } = grant.problem;
    // The front page drops what this browser kept of the board.
    const of =
      code === 'revoked' || code === 'not found' ? `&of=${encodeURIComponent(board)}&as=${asked.data}` : '';
    redirect(`/?why=${encodeURIComponent(code)}${of}`);
  }
  const instructor = asked.data === 'instructor' ? await services().instructor.of(token) : null;
  return {
    board,
    role: asked.data,
    membership: grant.value.membership,
    name: instructor?.ok ? instructor.value : '',
    frozen: grant.value.frozen,
  };
}
