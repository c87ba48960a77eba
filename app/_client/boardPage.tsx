'use client';

import dynamic from 'next/dynamic';
import type { ComponentType } from 'react';
import type { Me } from './boardClient.ts';

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

const Waiting = () => (
  <main className="sheet-page" aria-busy="true">
    <p role="status" className="sung text-2xl text-soft">
      Opening the board…
    </p>
  </main>
);
// Only in the browser: a board is a shared document, and the server's pages hold none.
const load = (from: () => Promise<ComponentType<{ me: Me }>>) =>
  dynamic(from, { ssr: false, loading: Waiting });

const screens: Record<ScreenName, ComponentType<{ me: Me }>> = {
  sheet: load(async () => (await import('../_sheet/sheetScreen.tsx')).SheetScreen),
  song: load(async () => (await import('../_song/songScreen.tsx')).SongScreen),
  practise: load(async () => (await import('../_practice/practiceScreen.tsx')).PracticeScreen),
  lessons: load(async () => (await import('../_notes/lessonsScreen.tsx')).LessonsScreen),
  remarks: load(async () => (await import('../_notes/remarksScreen.tsx')).RemarksScreen),
  dj: load(async () => (await import('../_handover/djScreen.tsx')).DjScreen),
  show: load(async () => (await import('../_handover/showScreen.tsx')).ShowScreen),
  night: load(async () => (await import('../_handover/nightScreen.tsx')).NightScreen),
  links: load(async () => (await import('../_studio/linksScreen.tsx')).LinksScreen),
};
const Room = dynamic(async () => (await import('./room.tsx')).BoardRoom, {
  ssr: false,
  loading: Waiting,
});

export function BoardPage({ me, screen }: { me: Me; screen: ScreenName }) {
  const Screen = screens[screen];
  return (
    <Room me={me} waiting={<Waiting />}>
      <Screen me={me} />
    </Room>
  );
}
