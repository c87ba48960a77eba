'use client';

import { createContext, type ReactNode, useContext, useMemo, useState } from 'react';
import { compileEdit, floorAtOrBefore } from '@/lib/core/edit/compile.ts';
import { type Edit, wholeSong } from '@/lib/core/edit/edit.ts';
import { floorTime, type RecordTime, recordTime } from '@/lib/core/units.ts';
import { useAudio } from '../_client/audio.ts';
import { useListening } from '../_client/audioOut.ts';
import { usePlan } from '../_client/room.tsx';
import { player, usePlayer } from '../_practice/player.ts';
import { useMusic } from '../_practice/useMusic.ts';
import { type Hearing, hearings, usualBar } from './handEdit.ts';
import { recordSound, useRecordSound } from './recordSound.ts';

/** What the one player of the song page plays: the recording as it is, or the song as it will be played. */
export const SOURCES = ['recording', 'played'] as const;
type Source = (typeof SOURCES)[number];

/** A stretch of an edit that is heard to judge by; `of` tells edits apart. */
interface Excerpt extends Hearing {
  of: string;
}

interface SongSound {
  source: Source;
  /** The other source, from the same moment on. */
  choose(source: Source): void;
  toggle(): void;
  /** Goes to a moment of the recording, playing or not. */
  goTo(at: RecordTime): void;
  /** Plays from there on. */
  hear(at: RecordTime, from?: Source): void;
  /** The moment of the recording that is heard at this very instant. */
  now(): RecordTime;
  clicked: boolean;
  setClicked(on: boolean): void;
  /** A join or a fade that is being heard, or made ready; null while none is. */
  excerpt: (Excerpt & { ready: boolean }) | null;
  /** Hears it; asked again for the one that is heard, stops it. */
  hearExcerpt(edit: Edit, excerpt: Excerpt): void;
  /** What is made ready is given up. */
  stop(): void;
  /** Why something could not be heard. */
  problem: string | null;
  making: boolean;
}

const Sound = createContext<SongSound | null>(null);

export function useSongSound(): SongSound {
  const sound = useContext(Sound);
  if (sound === null) throw new Error('useSongSound outside of SongSoundRoom');
  return sound;
}

interface SongPlace {
  at: RecordTime;
  /** By the clock of what is played. */
  clock: number;
  playing: boolean;
}

/** Where the music is, of whichever source; anew as it plays. */
export function useSongPlace(): SongPlace {
  const { source, now } = useSongSound();
  const states = { recording: usePlayer(recordSound), played: usePlayer(player) };
  const { at, playing } = states[source];
  return { at: now(), clock: Math.max(0, at ?? 0), playing };
}

/** Stretches of an edit that are worth hearing before it is chosen. */
export function useHearings(edit: Edit): Hearing[] {
  const { grid, recording } = usePlan();
  return useMemo(
    () => (recording ? hearings(edit, recording.duration, usualBar(grid)) : []),
    [edit, recording, grid],
  );
}

/** The sound of everything inside: one at a time. */
export function SongSoundRoom({ children }: { children: ReactNode }) {
  const { edit: present, recording } = usePlan();
  const desk = useAudio();
  const record = useRecordSound();
  const { stop } = useMusic();
  const { making, problem } = usePlayer();
  const listening = useListening();
  // What plays as somebody comes to this page goes on.
  const [source, setSource] = useState<Source>(() => (player.getState().playing ? 'played' : 'recording'));
  const [asked, setAsked] = useState<Excerpt | null>(null);
  const compiled = useMemo(
    () => compileEdit(present ?? wholeSong, { duration: recording?.duration ?? 0 }),
    [present, recording],
  );
  const of = { recording: recordSound, played: player };

  const now = (): RecordTime => {
    const at = of[source].now() ?? floorTime(0);
    return source === 'recording' ? recordTime(at) : compiled.toRecord(at);
  };
  const seek = (to: Source, at: RecordTime) =>
    of[to].seek(to === 'recording' ? floorTime(at) : floorAtOrBefore(compiled, at));
  const play = (from: Source) => {
    // An edit is judged at its own speed, and as a whole.
    player.setLoop(null);
    player.setSpeed(1);
    void of[from].play();
  };
  const hear = (at: RecordTime, from: Source = source) => {
    setSource(from);
    seek(from, at);
    play(from);
  };
  const sound: SongSound = {
    source,
    choose(next) {
      if (next === source) return;
      const at = now();
      const { playing } = of[source].getState();
      of[source].pause();
      setSource(next);
      seek(next, at);
      if (playing) play(next);
    },
    toggle() {
      if (listening.playing !== null) listening.stop();
      else if (of[source].getState().playing) of[source].pause();
      else play(source);
    },
    goTo: (at) => seek(source, at),
    hear,
    now,
    clicked: record.clicked,
    setClicked: record.setClicked,
    excerpt: listening.playing === null || !asked ? null : { ...asked, ready: listening.ready },
    hearExcerpt(edit, excerpt) {
      if (!recording) return;
      setAsked(excerpt);
      void listening.play(`${excerpt.of} ${excerpt.key}`, () =>
        desk.excerpt({ recording: recording.id }, edit, floorTime(excerpt.from), floorTime(excerpt.to)),
      );
    },
    stop() {
      listening.stop();
      of[source].pause();
      stop();
    },
    problem: listening.problem ?? (source === 'recording' ? record.problem : problem),
    making:
      (listening.playing !== null && !listening.ready) || (source === 'recording' ? record.making : making),
  };
  return <Sound value={sound}>{children}</Sound>;
}
