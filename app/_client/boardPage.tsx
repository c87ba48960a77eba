'use client';

import { type ComponentType, useCallback, useEffect, useState, useSyncExternalStore } from 'react';
import { Waiting } from '../_ui/waiting.tsx';
import { whenIdle } from '../_ui/whenIdle.ts';
import type { Me } from './boardState.ts';
import { keepPages } from './keepPages.ts';

export type ScreenName =
  | 'home'
  | 'sheet'
  | 'floor'
  | 'song'
  | 'practise'
  | 'lessons'
  | 'remarks'
  | 'dj'
  | 'show'
  | 'night'
  | 'links';

/** A part of the program that is loaded when it is first needed; from then on it is here. */
interface Part<T> {
  here: T | null;
  load(): Promise<T>;
}

function part<T>(load: () => Promise<T>): Part<T> {
  const made: Part<T> = {
    here: null,
    async load() {
      made.here ??= await load();
      return made.here;
    },
  };
  return made;
}

const room = part(async () => (await import('./room.tsx')).BoardRoom);
const screens: Record<ScreenName, Part<ComponentType<{ me: Me }>>> = {
  home: part(async () => (await import('../_home/homeScreen.tsx')).HomeScreen),
  sheet: part(async () => (await import('../_sheet/sheetScreen.tsx')).SheetScreen),
  floor: part(async () => (await import('../_floor/floorScreen.tsx')).FloorScreen),
  song: part(async () => (await import('../_song/songScreen.tsx')).SongScreen),
  practise: part(async () => (await import('../_practice/practiceScreen.tsx')).PracticeScreen),
  lessons: part(async () => (await import('../_notes/lessonsScreen.tsx')).LessonsScreen),
  remarks: part(async () => (await import('../_notes/remarksScreen.tsx')).RemarksScreen),
  dj: part(async () => (await import('../_handover/djScreen.tsx')).DjScreen),
  show: part(async () => (await import('../_handover/showScreen.tsx')).ShowScreen),
  night: part(async () => (await import('../_handover/nightScreen.tsx')).NightScreen),
  links: part(async () => (await import('../_studio/linksScreen.tsx')).LinksScreen),
};

// On their way as soon as this page's script is read, and not only once React comes to them.
if (typeof window !== 'undefined') {
  const name = window.location.pathname.split('/').at(-1)!;
  for (const wanted of [room, screens[name as ScreenName]]) wanted?.load().catch(() => undefined);
}

/** A page of a board. Drawn only in the browser: a board is a shared document, and the server's pages hold none. */
export function BoardPage({ me, screen }: { me: Me; screen: ScreenName }) {
  const Room = useLoaded(room);
  const Screen = useLoaded(screens[screen]);
  return (
    <div className="opening">
      {Room ? (
        <Room me={me}>
          {Screen ? <Screen me={me} /> : <Waiting />}
          <Keeping me={me} screen={screen} />
        </Room>
      ) : (
        <Waiting />
      )}
    </div>
  );
}

/**
 * A part, once it is here. Not by Suspense: what comes so soon after its fallback React holds back, until that has stood for
 * 300 ms.
 */
function useLoaded<T>(wanted: Part<T>): T | null {
  const [failed, setFailed] = useState<{ why: unknown } | null>(null);
  const whenHere = useCallback(
    (onHere: () => void) => {
      let left = false;
      wanted.load().then(
        () => left || onHere(),
        (why: unknown) => left || setFailed({ why }),
      );
      return () => {
        left = true;
      };
    },
    [wanted],
  );
  // The server never has it, and the page is at first as the server drew it.
  const here = useSyncExternalStore(
    whenHere,
    () => wanted.here,
    () => null,
  );
  if (failed) throw failed.why;
  return here;
}

/** Once the board is open and the page at leisure, it is kept for when there is no network. */
function Keeping({ me, screen }: { me: Me; screen: ScreenName }) {
  useEffect(() => whenIdle(() => void keepPages(me, screen, screens)), [me, screen]);
  return null;
}
