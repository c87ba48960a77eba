import { cookies } from 'next/headers';
import { services } from '@/lib/access/services.ts';
import { COOKIE } from '@/lib/access/session.ts';
import { Door } from '../_studio/door.tsx';
import { boardsOf } from '../_studio/heldBoards.ts';
import { SetUp } from '../_studio/setUp.tsx';
import { Studio } from '../_studio/studio.tsx';

interface Props {
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** First run, the door, or the studio: whatever this browser may see. */
export default async function FrontPage({ searchParams }: Props) {
  const { instructor, boards } = services();
  if (!(await instructor.exists())) return <SetUp />;
  const token = (await cookies()).get(COOKIE)?.value ?? null;
  const name = await instructor.of(token);
  const today = new Date().toISOString().slice(0, 10);
  if (name.ok) return <Studio name={name.value} boards={await boards.list(today)} today={today} />;
  const { why } = await searchParams;
  return <Door held={await boardsOf(token)} why={typeof why === 'string' ? why : null} />;
}
