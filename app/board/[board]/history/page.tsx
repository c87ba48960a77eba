import { redirect } from 'next/navigation';
import { HistoryScreen } from '@/app/_history/historyScreen.tsx';
import { type BoardPageProps, openPage } from '@/app/_ui/openPage.ts';

export const metadata = { title: 'History' };

/** It opens no document: so it is there, too, for a board that cannot be opened. */
export default async function Page(props: BoardPageProps) {
  const { board, role } = await openPage(props);
  if (role !== 'instructor') redirect('/?why=no%20right');
  return <HistoryScreen board={board} />;
}
