'use client';

import { useEffect, useRef } from 'react';
import { hashOf } from '@/lib/core/edit/canonical.ts';
import { digestOf } from '@/lib/core/edit/digest.ts';
import { wholeSong } from '@/lib/core/edit/edit.ts';
import { good, type Result } from '@/lib/core/result.ts';
import { useAudio } from '../_client/audio.ts';
import type { Music } from '../_client/audioWork.ts';
import { useBoard } from '../_client/room.tsx';
import { songOf } from '../_song/songOf.ts';
import { keepMusic, keptMusic, musicPlace } from './keptMusic.ts';
import { player, usePlayer } from './player.ts';

/** What is being made already, perhaps for the page that was just left. */
const beingMade = new Map<string, Promise<Result<Music>>>();

function onceAtATime(name: string, make: () => Promise<Result<Music>>): Promise<Result<Music>> {
  const made = beingMade.get(name) ?? make().finally(() => beingMade.delete(name));
  beingMade.set(name, made);
  return made;
}

export interface MusicState {
  /** There is a recording and an edit of it to play. */
  possible: boolean;
  stop(): void;
}

/**
 * Keeps the player's music that of the present edit: what was rendered for another one is taken away, and made anew as soon as
 * somebody wants to hear it. For one place in a page: the bar at its foot.
 */
export function useMusic(): MusicState {
  const { me, board } = useBoard('me', 'board');
  const { plan } = board;
  const { counted: wished } = usePlayer();
  const desk = useAudio();
  const { recording } = plan;
  const edit = plan.edit ?? wholeSong;
  const song = songOf(plan);
  const counted = song !== null && wished;
  const counts = counted ? hashOf(['counted', JSON.stringify(plan.grid)]) : '';
  const digest = recording ? digestOf(edit, recording) : null;
  const key = digest === null ? null : `${digest}${counts}`;

  const make = async () => {
    if (!recording || key === null) return;
    player.fail(null);
    player.setMaking(true);
    const source = { recording: recording.id };
    const place = musicPlace(me.membership, me.board);
    const kept = await keptMusic(place, key);
    const made = kept
      ? good(kept)
      : await onceAtATime(`${place} ${key}`, () => desk.music(source, edit, counted ? song : null));
    player.setMaking(false);
    if (!made.ok) {
      if (made.problem.code !== 'stopped') player.fail(made.problem.sentence);
      return;
    }
    const isKept = kept !== null || (await keepMusic(place, key, made.value));
    if (wanted.current === key) player.put(key, made.value, isKept && typeof caches !== 'undefined');
  };
  const latest = useRef(make);
  latest.current = make;
  const wanted = useRef(key);
  wanted.current = key;

  // A stretch to go round in is of one edit.
  const before = useRef(digest);
  useEffect(() => {
    if (before.current !== digest) player.setLoop(null);
    before.current = digest;
  }, [digest]);

  useEffect(() => {
    player.onWanted = () => void latest.current();
    if (key === null || !player.has(key)) {
      // Pressed before there was anybody to make it, or while the edit changed: it is still to be heard.
      const isWaiting = player.isWaiting;
      player.put(null, null);
      player.fail(null);
      if (isWaiting && key !== null) void player.play();
    }
    return () => {
      player.onWanted = null;
    };
  }, [key]);

  return { possible: recording !== null, stop: () => desk.stop() };
}
