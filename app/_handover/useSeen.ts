'use client';

import { useEffect, useState } from 'react';
import { useBoard } from '../_client/room.tsx';
import { type Looking, tapped } from './seen.ts';

interface Seen<T> {
  /** What was looked at until a tap showed that it had changed; null while it is as it was. */
  before: T | null;
  /** @param give gives the word and says whether that was taken. @returns whether it was given */
  tap(give: () => boolean): boolean;
  /** What was seen is known to be otherwise by now: the person did it. */
  know(own: (seen: T) => T): void;
}

/**
 * Keeps what was on the screen when somebody began to look, so that their word is never given for anything else. The button is
 * pressed `once`: the second click of a double click was not meant for what came up between.
 * @param now what the word would be given for
 * @param digestOf the same for what reads the same
 * @param about with another one they begin to look anew
 */
export function useSeen<T>(now: T, digestOf: (what: T) => string, about = ''): Seen<T> {
  const arriving = useArriving();
  const [looking, setLooking] = useState<Looking<T> & { about: string }>({ seen: now, before: null, about });
  if (looking.about !== about || (arriving && digestOf(looking.seen) !== digestOf(now)))
    setLooking({ seen: now, before: null, about });
  const { before } = looking;
  return {
    before: before === null || digestOf(before) === digestOf(now) ? null : before,
    tap(give) {
      const { gives, looking: then } = tapped(looking, now, digestOf);
      const given = gives && give();
      setLooking({ ...(given ? { seen: now, before: null } : then), about });
      return given;
    },
    know: (own) =>
      setLooking((was) => ({
        ...was,
        seen: own(was.seen),
        before: was.before === null ? null : own(was.before),
      })),
  };
}

/** Ms within which a board that opens may still come piece by piece; nobody has read it by then. */
const OPENING = 3000;

/** Whether the page has just been opened, and parts of the board may still be on their way to it. */
export function useArriving(): boolean {
  const { saving } = useBoard('saving');
  const [arriving, setArriving] = useState(true);
  if (arriving && saving !== 'offline') setArriving(false);
  useEffect(() => {
    const late = setTimeout(() => setArriving(false), OPENING);
    return () => clearTimeout(late);
  }, []);
  return arriving;
}
