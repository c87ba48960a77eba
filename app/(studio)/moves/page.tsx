import type { Metadata } from 'next';
import { cookies } from 'next/headers';
import { redirect } from 'next/navigation';
import { services } from '@/lib/access/services.ts';
import { tokenAmong } from '@/lib/access/session.ts';
import { StudioMovesPage } from '../../_studio/studioMoves.tsx';

export const metadata: Metadata = { title: 'Moves' };

/** The studio's own moves. */
export default async function MovesPage() {
  const { instructor, moves } = services();
  const kept = await cookies();
  const token = tokenAmong((name) => kept.get(name)?.value);
  const name = await instructor.of(token);
  if (!name.ok) redirect('/');
  return <StudioMovesPage name={name.value} own={(await moves.read()).moves} />;
}
