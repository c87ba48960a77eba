import { redirect } from 'next/navigation';
import { type BoardPageProps, openPage } from '@/app/_ui/openPage.ts';
import { boardAddress, screensOf } from '@/app/_ui/roles.ts';

/** A board's bare address leads to the role's first page. */
export default async function Page(props: BoardPageProps) {
  const me = await openPage(props);
  redirect(boardAddress(me.board, screensOf[me.role][0] ?? 'sheet', me.role));
}
