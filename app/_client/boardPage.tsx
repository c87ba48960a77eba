'use client';

import { type ComponentType, useEffect, useState } from 'react';
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
/** A page of a board. Drawn only in the browser: a board is a shared document, and the server's pages hold none. */
export function BoardPage({ me, screen }: { me: Me; screen: ScreenName }) {
  const Room = useLoaded(room);
  const Screen = useLoaded(loads[screen]);
  if (!Room) return <Waiting />;
  return (
    <Room me={me}>
      {Screen ? <Screen me={me} /> : <Waiting />}
      <Keeping me={me} screen={screen} />
    </Room>
  );
}

/**
 * What is loaded, once it is here. Not by Suspense: what comes so soon after its fallback React holds back, until that has
 * stood for 300 ms.
 */
function useLoaded<T>(load: () => Promise<T>): T | null {
  const [loaded, setLoaded] = useState<{ value: T } | { failed: unknown } | null>(null);
  useEffect(() => {
    let left = false;
    const say = (said: typeof loaded) => {
      if (!left) setLoaded(said);
    };
    load().then(
      (value) => say({ value }),
      (failed: unknown) => say({ failed }),
    );
    return () => {
      left = true;
    };
  }, [load]);
  if (loaded === null) return null;
  if ('failed' in loaded) throw loaded.failed;
  return loaded.value;
}

/** Once the board is open and the page at leisure, it is kept for when there is no network. */
function Keeping({ me, screen }: { me: Me; screen: ScreenName }) {
  useEffect(() => whenIdle(() => void keepPages(me, screen, loads)), [me, screen]);
  return null;
}
