'use client';

import dynamic from 'next/dynamic';
import { type ComponentType, useEffect } from 'react';
import { Waiting } from '../_ui/waiting.tsx';
import { whenIdle } from '../_ui/whenIdle.ts';
import type { Me } from './boardClient.ts';
import { keepPages } from './keepPages.ts';

export type ScreenName =
  | 'sheet'
  | 'song'
  | 'practise'
  | 'lessons'
  | 'remarks'
  | 'dj'
  | 'show'
  | 'night'
  | 'links';

/** On its way as soon as this page's script is read, and not only once React comes to it. */
const room = async () => (await import('./room.tsx')).BoardRoom;
if (typeof window !== 'undefined') room().catch(() => undefined);

const loads: Record<ScreenName, () => Promise<ComponentType<{ me: Me }>>> = {
  sheet: async () => (await import('../_sheet/sheetScreen.tsx')).SheetScreen,
  song: async () => (await import('../_song/songScreen.tsx')).SongScreen,
  practise: async () => (await import('../_practice/practiceScreen.tsx')).PracticeScreen,
  lessons: async () => (await import('../_notes/lessonsScreen.tsx')).LessonsScreen,
  remarks: async () => (await import('../_notes/remarksScreen.tsx')).RemarksScreen,
  dj: async () => (await import('../_handover/djScreen.tsx')).DjScreen,
  show: async () => (await import('../_handover/showScreen.tsx')).ShowScreen,
  night: async () => (await import('../_handover/nightScreen.tsx')).NightScreen,
  links: async () => (await import('../_studio/linksScreen.tsx')).LinksScreen,
};
// Only in the browser: a board is a shared document, and the server's pages hold none.
const screens = Object.fromEntries(
  Object.entries(loads).map(([name, load]) => [
    name,
    dynamic(load, { ssr: false, loading: () => <Waiting /> }),
  ]),
) as Record<ScreenName, ComponentType<{ me: Me }>>;
const Room = dynamic(room, { ssr: false, loading: () => <Waiting /> });

export function BoardPage({ me, screen }: { me: Me; screen: ScreenName }) {
  const Screen = screens[screen];
  // Shown only once the board is open, but on its way from the beginning. What fails here fails again where it is shown.
  useEffect(() => {
    loads[screen]().catch(() => undefined);
  }, [screen]);
  return (
    <Room me={me}>
      <Screen me={me} />
      <Keeping me={me} screen={screen} />
    </Room>
  );
}

/** Once the board is open and the page at leisure, it is kept for when there is no network. */
function Keeping({ me, screen }: { me: Me; screen: ScreenName }) {
  useEffect(() => whenIdle(() => void keepPages(me, screen, loads)), [me, screen]);
  return null;
}
