import { BoardPage } from '@/app/_client/boardPage.tsx';
import { type BoardPageProps, openPage } from '@/app/_ui/openPage.ts';

export const metadata = { title: 'Floor plan' };

export default async function Page(props: BoardPageProps) {
  return <BoardPage me={await openPage(props)} screen="floor" />;
}
